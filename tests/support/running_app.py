"""What stands on the screen of an app that the pilot drives, and keys pressed in it."""

from __future__ import annotations

from textual.geometry import Region
from textual.pilot import Pilot

from tracker.tui.app import RoundsApp
from tracker.tui.panel import Panel


def text(app: RoundsApp, panel: str = "") -> str:
    """What stands on the screen, or in one panel, as the panels painted it."""
    panels = [app.screen.query_one(f"#{panel}", Panel)] if panel else list(app.screen.query(Panel))
    return "\n".join(strip.text.rstrip() for one in panels for strip in one.render_lines(Region(0, 0, *one.size)))


async def pressed(pilot: Pilot[None], *keys: str) -> RoundsApp:
    """The app after these keys, when all that they set going is done."""
    app = pilot.app
    assert isinstance(app, RoundsApp)
    await pilot.pause()
    for key in keys:
        await pilot.press(key)
        await pilot.pause()
    return app
