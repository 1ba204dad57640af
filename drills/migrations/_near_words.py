"""The function that finds words that were mistyped."""

from django.db import migrations

# A text search for words and what is spelt nearly so: beginnings of words, what is a slip of the pen away (two words with
# a cut in common) or, for longer ones, what looks most alike. NULL where nothing but small words was typed.
NEAR = """
CREATE OR REPLACE FUNCTION near_words(typed text[]) RETURNS tsquery
LANGUAGE plpgsql STABLE STRICT PARALLEL SAFE
AS $$
DECLARE
  one text; near text; alike text[]; said tsquery; whole tsquery;
BEGIN
  FOREACH one IN ARRAY typed LOOP
    said := to_tsquery('english', one || ':*');
    CONTINUE WHEN numnode(said) = 0;
    IF length(one) > 3 THEN
      alike := ARRAY(
        SELECT DISTINCT word FROM drills_word
        WHERE cut = one OR cut IN (
          SELECT left(one, place - 1) || substr(one, place + 1) FROM generate_series(1, length(one)) AS place
        )
        LIMIT 20
      );
      IF cardinality(array_remove(alike, one)) = 0 AND length(one) > 5 THEN
        alike := ARRAY(
          SELECT word FROM drills_word
          WHERE cut = word AND word % one ORDER BY similarity(word, one) DESC, word LIMIT 5
        );
      END IF;
      FOREACH near IN ARRAY alike LOOP
        said := said || to_tsquery('english', near);
      END LOOP;
    END IF;
    whole := CASE WHEN whole IS NULL THEN said ELSE whole && said END;
  END LOOP;
  RETURN whole;
END
$$
"""

OPERATION = migrations.RunSQL(NEAR, "DROP FUNCTION IF EXISTS near_words(text[])")
