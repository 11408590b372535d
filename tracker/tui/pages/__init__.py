"""The pages that lie over the working screen: lists, figures, pictures, help.

Each is opened by one command and closed by escape. The registry says which command opens which. A page reads the
project and asks the controller for what is to be done.
"""

DOORS = ("home", "materials", "page", "paste", "registry", "rounds")
"""The modules of this folder that others may import; the rest is its own."""
