"""A window of WebKitGTK that a driver controls and whose store lies in a folder.

Debian's own Python runs it: the bindings to WebKit are one of its packages. The engine's small
browser will not do: under a driver it keeps nothing and prints no error of a page.
"""

import sys
from typing import Any


def main(folder: str) -> None:
    """Open a window whenever the driver asks for one, until the driver ends this process."""
    import gi  # type: ignore[import-not-found]

    gi.require_version("Gtk", "3.0")
    gi.require_version("WebKit2", "4.1")
    from gi.repository import Gtk, WebKit2  # type: ignore[import-not-found]

    manager = WebKit2.WebsiteDataManager(base_data_directory=folder, base_cache_directory=folder)
    context = WebKit2.WebContext(website_data_manager=manager)
    context.set_automation_allowed(True)

    def open_window(_session: Any) -> Any:
        settings = WebKit2.Settings(enable_write_console_messages_to_stdout=True)
        view = WebKit2.WebView(
            web_context=context, settings=settings, is_controlled_by_automation=True
        )
        window = Gtk.Window(default_width=800, default_height=1280)
        window.add(view)
        window.show_all()
        return view

    def begin(_context: Any, session: Any) -> None:
        session.set_application_info(WebKit2.ApplicationInfo())
        session.connect("create-web-view", open_window)

    context.connect("automation-started", begin)
    Gtk.main()


if __name__ == "__main__":
    main(sys.argv[1])
