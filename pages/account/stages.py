"""What stands between the right password and being signed in."""

from hmac import compare_digest

from allauth.mfa.stages import AuthenticateStage
from django.http import HttpResponse


class CodeStage(AuthenticateStage):
    """The second factor. A password that is changed meanwhile has to be given anew."""

    def handle(self) -> tuple[HttpResponse | None, bool]:
        """Ask for it, and keep which password was right."""
        response, goes_on = super().handle()
        if response is not None:
            assert self.login.user is not None
            self.state["password"] = self.login.user.get_session_auth_hash()
        return response, goes_on

    @property
    def stands(self) -> bool:
        """Whether who gave the password may still give the code."""
        person = self.login.user
        if person is None or not person.is_active:
            return False
        return compare_digest(person.get_session_auth_hash(), self.state.get("password", ""))
