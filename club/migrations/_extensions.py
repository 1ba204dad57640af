"""What the database needs before the first table: kept apart so that the first migration can be made anew.

`unaccent` is only STABLE, since its dictionary could change; `plain_words` is an IMMUTABLE wrapper that names the
dictionary, so that it may stand in generated columns and indexes.
"""

from django.contrib.postgres.operations import BtreeGistExtension, TrigramExtension, UnaccentExtension
from django.db import migrations

PLAIN_WORDS = """
CREATE OR REPLACE FUNCTION plain_words(words text) RETURNS text
LANGUAGE sql IMMUTABLE PARALLEL SAFE STRICT
AS $$ SELECT public.unaccent('public.unaccent'::regdictionary, lower(words)) $$
"""

EXTENSIONS = [
    BtreeGistExtension(),
    TrigramExtension(),
    UnaccentExtension(),
    migrations.RunSQL(PLAIN_WORDS, "DROP FUNCTION IF EXISTS plain_words(text)"),
]
