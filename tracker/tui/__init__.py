"""The Textual app: keys to events, views to painted lines.

The controller sends events and gets views; it does no sums. A page is what lies over the working screen for a while.
Rendering is pure: from values to lines of styled text.
"""

DOORS = (
    "app",
    "commands",
    "controller",
    "count_dialog",
    "footer",
    "main_key_preview",
    "palette",
    "panel",
    "rest_reminder",
    "settings",
    "settings_writer",
    "sounds",
    "speech",
)
"""The modules of this folder that others may import; the rest is its own."""
