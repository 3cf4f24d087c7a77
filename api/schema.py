"""The OpenAPI schema of this API, and a page to read it on."""

from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView


class Schema(SpectacularAPIView):
    """The schema of this API (OpenAPI 3.1)."""


class Docs(SpectacularSwaggerSplitView):
    """A page of the site's own files on which the schema is read and calls are tried."""

    template_name = "api_docs.html"
    url_name = "api-schema"
