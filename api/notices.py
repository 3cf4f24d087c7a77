"""The API of notices, and of the addresses and webhooks that they go to."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.response import Response

from api.base import View, given_in, paged
from api.calls import Call
from api.serializers.notices import AddressMadeSerializer, AddressSerializer, NoticeSerializer
from inspections.days.selectors import shop_of
from jobs.models import Role
from notifications.selectors import address_read, addresses_of, notice_read, unseen_notices
from notifications.services.notices import notice_see
from notifications.services.wishes import address_add, address_remove


class Notices(View):
    """What the caller was told and has not seen."""

    @extend_schema(responses=NoticeSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Those that still stand."""
        return paged(self, request, unseen_notices(request.user), NoticeSerializer)


class NoticeSeen(View):
    """A notice that was seen."""

    observes = True

    @extend_schema(request=None, responses=NoticeSerializer)
    def post(self, request: Call, notice_id: UUID) -> Response:
        """Mark it as seen; it goes on to nobody else."""
        notice = notice_read(request.user, notice_id)
        notice_see(request.user, notice_id=notice.id)
        notice.refresh_from_db()
        return Response(NoticeSerializer(notice).data)


class Addresses(View):
    """How the caller is reached; a webhook is one of them."""

    @extend_schema(responses=AddressSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Each without its secret."""
        return paged(self, request, addresses_of(request.user), AddressSerializer)

    @extend_schema(request=AddressSerializer, responses={201: AddressMadeSerializer})
    def post(self, request: Call) -> Response:
        """One more. The secret of a webhook is shown only once."""
        given = given_in(AddressSerializer, request)
        shop = shop_of(request.user, *Role)
        made = address_add(request.user, person=request.user, shop=shop, **given)
        return Response(AddressMadeSerializer(made).data, status=201)


class OneAddress(View):
    """One address."""

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Call, address_id: UUID) -> Response:
        """Forget it, with what waited for it."""
        address_remove(request.user, address=address_read(request.user, address_id))
        return Response(status=204)
