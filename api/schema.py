"""The OpenAPI schema of this API, and a page to read it on."""

from typing import Any

from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView

from inspections.checker.keeping.facts_schema import finding_schemas


class Schema(SpectacularAPIView):
    """The schema of this API (OpenAPI 3.1)."""


class Docs(SpectacularSwaggerSplitView):
    """A page of the site's own files on which the schema is read and calls are tried."""

    template_name = "api_docs.html"
    url_name = "api-schema"


def with_findings(result: dict[str, Any], **_: Any) -> dict[str, Any]:
    """Publish the facts of each rule: every shape of a finding among the components."""
    components = result["components"]["schemas"]
    for name, schema in finding_schemas().items():
        if components.setdefault(name, schema) is not schema:
            raise ValueError(f"two shapes of the API are called {name}")
    result["components"]["schemas"] = dict(sorted(components.items()))
    return result
