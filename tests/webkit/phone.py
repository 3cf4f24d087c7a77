#!/usr/bin/python3
"""A phone's browser of WebKitGTK that keeps what it is given, for WebKitWebDriver to start.

MiniBrowser forgets everything when a driver has started it. This keeps its data in the folder that
PHONE_PROFILE names, so that it can be killed and started again. It runs in Debian's own Python,
which has the bindings of GObject, and imports nothing of the project.
"""

import os

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import GLib, Gtk, WebKit2  # noqa: E402, versions are chosen first

PROFILE = os.environ["PHONE_PROFILE"]
WIDTH, HEIGHT = 390, 844


def main() -> None:
    """Wait for the driver, and give it a view."""
    context = WebKit2.WebContext(
        website_data_manager=WebKit2.WebsiteDataManager(
            base_data_directory=f"{PROFILE}/data", base_cache_directory=f"{PROFILE}/cache"
        )
    )
    cookies = context.get_cookie_manager()
    cookies.set_persistent_storage(f"{PROFILE}/cookies", WebKit2.CookiePersistentStorage.SQLITE)
    context.set_automation_allowed(True)
    context.connect("automation-started", _started)
    GLib.MainLoop().run()


def _started(context: WebKit2.WebContext, session: WebKit2.AutomationSession) -> None:
    session.connect("create-web-view", lambda _: _view(context))


def _view(context: WebKit2.WebContext) -> WebKit2.WebView:
    view = WebKit2.WebView(web_context=context, is_controlled_by_automation=True)
    window = Gtk.Window(default_width=WIDTH, default_height=HEIGHT)
    window.add(view)
    window.show_all()
    return view


if __name__ == "__main__":
    main()
