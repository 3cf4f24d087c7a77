"""The API of what a shop keeps: people, builders, authorities, rulebooks, figures, changes."""

from uuid import UUID

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.exceptions import ParseError
from rest_framework.response import Response

from api.base import View, given_in, one_page, paged
from api.calls import Call
from api.proof import require_proof
from api.refusal_messages import NOT_WHOLE
from api.serializers.shop import (
    AmendmentSerializer,
    AuthorityNewSerializer,
    AuthoritySerializer,
    BuilderSerializer,
    ChangesSerializer,
    FigureSerializer,
    InvitationMadeSerializer,
    InvitationSerializer,
    MemberSerializer,
    RoleSerializer,
    RulebookSerializer,
)
from config.languages import said_later
from inspections.checker.rulebook import rulebook_ids
from inspections.days.selectors import shop_of
from inspections.houses.amendments import rulebook_of_shop
from inspections.overview.figures import figures_of
from inspections.record.feed import changes_since
from inspections.services.amendments import limit_amend, limit_restore
from jobs.access import SITE_ROLES
from jobs.models import Builder, Invitation, Membership, Role, Shop
from jobs.selectors import authority_get
from jobs.services.authorities import authority_add, authority_change
from jobs.services.people import (
    builder_add,
    invitation_make,
    invitation_withdraw,
    membership_change,
    membership_end,
)


class OfOffice(View):
    """A view on the shop whose office the caller keeps; 404 for anybody else."""

    @property
    def shop(self) -> Shop:
        """That shop."""
        return shop_of(self.request.user, Role.OFFICE)


def _firm(shop: Shop, builder: UUID | None) -> Builder | None:
    if builder:
        return Builder.objects.get(shop=shop, id=builder)
    return None


class Builders(OfOffice):
    """The builders that the shop works for."""

    @extend_schema(responses=BuilderSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Every firm, the earliest first."""
        return paged(self, request, self.shop.builders.all(), BuilderSerializer)

    @extend_schema(request=BuilderSerializer, responses={201: BuilderSerializer})
    def post(self, request: Call) -> Response:
        """One more."""
        shop, given = self.shop, given_in(BuilderSerializer, request)
        made = builder_add(request.user, shop=shop, **given)
        return Response(BuilderSerializer(made).data, status=201)


class Authorities(OfOffice):
    """The authorities that the shop's jobs answer to."""

    @extend_schema(responses=AuthoritySerializer(many=True))
    def get(self, request: Call) -> Response:
        """Each with its rules for inspections."""
        return paged(self, request, self.shop.authorities.all(), AuthoritySerializer)

    @extend_schema(request=AuthorityNewSerializer, responses={201: AuthoritySerializer})
    def post(self, request: Call) -> Response:
        """One more, from what one has published when `template` names it."""
        shop, given = self.shop, given_in(AuthorityNewSerializer, request)
        made = authority_add(actor=request.user, shop=shop, **given)
        return Response(AuthoritySerializer(made).data, status=201)


class OneAuthority(OfOffice):
    """One authority."""

    @extend_schema(responses=AuthoritySerializer)
    def get(self, request: Call, authority_id: UUID) -> Response:
        """Its rules for inspections."""
        return Response(AuthoritySerializer(authority_get(request.user, authority_id)).data)

    @extend_schema(request=AuthoritySerializer(partial=True), responses=AuthoritySerializer)
    def patch(self, request: Call, authority_id: UUID) -> Response:
        """Edit them; what follows for its jobs is drawn anew."""
        kept = authority_get(request.user, authority_id)
        given = AuthoritySerializer(data=request.data, partial=True)
        given.is_valid(raise_exception=True)
        made = authority_change(request.user, authority=kept, **given.validated_data)
        return Response(AuthoritySerializer(made).data)


class ShopPeople(OfOffice):
    """Who is in the shop."""

    @extend_schema(responses=MemberSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Each with the role and, for a builder's person, the firm."""
        found = self.shop.memberships.select_related("person", "builder")
        return paged(self, request, found, MemberSerializer)


class OneMember(OfOffice):
    """One person's membership of the shop."""

    @extend_schema(request=RoleSerializer, responses=MemberSerializer)
    def patch(self, request: Call, membership_id: UUID) -> Response:
        """Give another role."""
        shop = self.shop
        kept = Membership.objects.get(id=membership_id, shop=shop)
        given = given_in(RoleSerializer, request)
        firm = _firm(shop, given.get("builder"))
        role = Role(given["role"])
        require_proof(request, role)
        made = membership_change(request.user, membership=kept, role=role, builder=firm)
        return Response(MemberSerializer(made).data)

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Call, membership_id: UUID) -> Response:
        """Let the person see nothing of the shop any more."""
        kept = Membership.objects.get(id=membership_id, shop=self.shop)
        require_proof(request)
        membership_end(request.user, membership=kept)
        return Response(status=204)


class Invitations(OfOffice):
    """Ways into the shop that were not used yet."""

    @extend_schema(responses=InvitationSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Those that were neither used nor withdrawn, without their secrets."""
        found = self.shop.invitations.filter(used_at=None, withdrawn_at=None)
        return paged(self, request, found, InvitationSerializer)

    @extend_schema(request=InvitationMadeSerializer, responses={201: InvitationMadeSerializer})
    def post(self, request: Call) -> Response:
        """Invite somebody; the secret is shown only once, and opens /join/SECRET."""
        shop, given = self.shop, given_in(InvitationMadeSerializer, request)
        given["builder"] = _firm(shop, (given.get("builder") or {}).get("id"))
        given["role"] = Role(given["role"])
        require_proof(request, given["role"])
        made, secret = invitation_make(request.user, shop=shop, **given)
        return Response(InvitationMadeSerializer(made).data | {"secret": secret}, status=201)


class OneInvitation(OfOffice):
    """One invitation."""

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Call, invitation_id: UUID) -> Response:
        """Take it back."""
        kept = Invitation.objects.get(id=invitation_id, shop=self.shop)
        invitation_withdraw(request.user, invitation=kept)
        return Response(status=204)


class Rulebooks(View):
    """The rulebooks as the shop has them."""

    @extend_schema(responses=RulebookSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Each with every limit, its section, how it is known, and what was amended."""
        shop = shop_of(request.user, *SITE_ROLES)
        books = []
        for name in rulebook_ids():
            books.append(rulebook_of_shop(shop, name))
        return one_page(books, RulebookSerializer)


class Amendments(OfOffice):
    """What the shop sets otherwise than its rulebooks do."""

    @extend_schema(responses=AmendmentSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Everything that was ever amended, the earliest first; the last of a limit stands."""
        found = self.shop.amendments.select_related("made_by").order_by("id")
        return paged(self, request, found, AmendmentSerializer)

    @extend_schema(request=AmendmentSerializer, responses={201: AmendmentSerializer})
    def post(self, request: Call) -> Response:
        """Amend a limit, or with a value of null have it as the code has it again."""
        shop, given = self.shop, given_in(AmendmentSerializer, request)
        if given["value"] is None:
            del given["value"]
            given.pop("unit", None)
            made = limit_restore(request.user, shop=shop, **given)
        else:
            made = limit_amend(request.user, shop=shop, **{"unit": "", **given})
        return Response(AmendmentSerializer(made).data, status=201)


class Figures(OfOffice):
    """The shop's figures."""

    @extend_schema(responses=FigureSerializer(many=True))
    def get(self, _request: Call) -> Response:
        """Each as a table, with the jobs behind every line."""
        return one_page(figures_of(self.shop, timezone.now()), FigureSerializer)


class Changes(View):
    """What was recorded, in an order that skips nothing and repeats nothing."""

    @extend_schema(
        parameters=[
            OpenApiParameter("since", int, description="the last number seen; 0 for all"),
            OpenApiParameter("limit", int, description="at most so many, up to 500"),
        ],
        responses=ChangesSerializer,
    )
    def get(self, request: Call) -> Response:
        """Changes after a number. Ask again with `last` while `more`, then every so often."""
        shop = shop_of(request.user, *SITE_ROLES)
        since, most = (_whole(request, "since", 0, 2**62), _whole(request, "limit", 100, 500))
        found = changes_since(shop, since, max(1, most))
        last = since
        if found:
            last = found[-1].number
        told = {"results": found, "last": last, "more": len(found) == most}
        return Response(ChangesSerializer(told).data)


def _whole(request: Call, name: str, otherwise: int, most: int) -> int:
    text = request.query_params.get(name, str(otherwise))
    if not (text.isascii() and text.isdecimal() and len(text) < 20):
        raise ParseError(said_later(NOT_WHOLE(name=name, typed=text)))
    return min(int(text), most)
