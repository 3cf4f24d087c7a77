"""How the OpenAPI schema tells each operation, complete with every refusal it may meet."""

from datetime import date, datetime
from typing import Any, Literal
from uuid import UUID

from drf_spectacular.extensions import OpenApiAuthenticationExtension
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiParameter, OpenApiResponse
from rest_framework import serializers

UNSAFE = ("POST", "PUT", "PATCH", "DELETE")
ALWAYS = {401: "not signed in, and no token", 403: "not this caller's to do", 429: "too many calls"}
WITH_PATH = {404: "nothing there, or not this caller's to see"}
WITH_QUERY = {400: "a query or body that cannot be read"}
WRITING = {
    404: "something named in it is not there",
    409: "it cannot be done as things stand, or the Idempotency-Key came with another call",
    412: "the job has changed since the state that If-Match names",
    415: "a body of another kind",
    422: "values that will not do",
}
KINDS = {
    "UUIDFilter": UUID,
    "DateFilter": date,
    "BooleanFilter": bool,
    "IsoDateTimeFilter": datetime,
}
Parameter = OpenApiParameter | serializers.Serializer[Any] | type[serializers.Serializer[Any]]
"""What the library takes for one."""
MIME = "application/problem+json"


class FaultSerializer(serializers.Serializer[None]):
    """One fault: where in what was sent, as a JSON Pointer in a fragment, and what."""

    pointer = serializers.CharField(allow_blank=True)
    detail = serializers.CharField()


class ProblemSerializer(serializers.Serializer[None]):
    """Why a call was refused (RFC 9457)."""

    type = serializers.CharField()
    title = serializers.CharField()
    status = serializers.IntegerField()
    detail = serializers.CharField()
    # A field that the metaclass takes away: the name of its own is free again.
    errors = FaultSerializer(many=True, required=False)  # type: ignore[assignment]


class Operations(AutoSchema):
    """Operations named and grouped by address, each with what all of its kind share."""

    def get_tags(self) -> list[str]:
        """The first word of the address."""
        return [self.path.removeprefix("/api/").split("/")[0]]

    def get_override_parameters(self) -> list[Parameter]:
        """Headers of writes; the fields that a read may be narrowed to."""
        if self.method not in UNSAFE:
            words = "only these, with commas"
            return [OpenApiParameter("fields", str, description=words), *self._narrowing()]
        here: Literal["header"] = "header"
        once = "do it once, and answer alike when it comes again within a day"
        match = "only if the job has this entity tag"
        return [
            OpenApiParameter("Idempotency-Key", str, here, description=once),
            OpenApiParameter("If-Match", str, here, description=match),
        ]

    def _narrowing(self) -> list[OpenApiParameter]:
        """What a list can be narrowed by."""
        sieve = getattr(self.view, "narrowed", None)
        filters = ()
        if sieve:
            filters = sieve.base_filters.items()
        parameters: list[OpenApiParameter] = []
        for name, each in filters:
            parameters.append(
                OpenApiParameter(
                    name,
                    KINDS.get(type(each).__name__, str),
                    description=str(each.label or ""),
                    enum=[value for value, _ in each.extra.get("choices", ())] or None,
                )
            )
        return parameters

    def _get_response_bodies(self, direction: Any = "response") -> dict[str, Any]:
        """What the view says, and the refusals that any call of its kind may meet."""
        bodies = super()._get_response_bodies(direction)
        refusals = ALWAYS | WITH_QUERY
        if "{" in self.path or self.method == "GET":
            refusals |= WITH_PATH
        if self.method in UNSAFE:
            refusals |= WRITING
        for status, words in refusals.items():
            problem = OpenApiResponse(ProblemSerializer, words)
            # The library's own names here say no types.
            told = self._get_response_for_code(  # type: ignore[no-untyped-call]
                problem, str(status), [MIME], direction
            )
            bodies.setdefault(str(status), told)
        return bodies


class TokenScheme(OpenApiAuthenticationExtension):
    """Tokens, as the schema names them."""

    target_class = "api.tokens.TokenAuthentication"
    name = "token"

    def get_security_definition(self, _auto_schema: AutoSchema) -> dict[str, str]:
        """A bearer token."""
        return {"type": "http", "scheme": "bearer"}
