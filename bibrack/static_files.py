"""Static files under names that change with their content, also where one script imports another."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class NamedByContent(CompressedManifestStaticFilesStorage):
    """A page of one version never meets a script of another, however long a browser or a phone keeps either."""

    support_js_module_import_aggregation = True
