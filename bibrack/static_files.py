"""Static files under names that change with their content, also where one script imports another."""

from django.contrib.staticfiles.storage import HashedFilesMixin
from whitenoise.storage import CompressedManifestStaticFilesStorage

OURS = ("bibrack", "club", "drills", "sessions")  # scripts of others bring names that are none of files
_, _IMPORTS = HashedFilesMixin._js_module_import_aggregation_patterns
_OF_SCRIPTS = [(f"{app}/*.js", _IMPORTS) for app in OURS]


class NamedByContent(CompressedManifestStaticFilesStorage):
    """A page of one version never meets a script of another, however long a browser or a phone keeps either."""

    patterns = (
        *CompressedManifestStaticFilesStorage.patterns,
        *_OF_SCRIPTS,
    )
