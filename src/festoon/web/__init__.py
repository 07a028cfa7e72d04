"""The page's server: one piece served to the browser on this machine, by the same functions as the command line.

`create_app` is the whole of it as an ASGI application; `serve` runs it until Ctrl-C.
"""

from festoon.web.app import create_app
from festoon.web.serving import serve

__all__ = ["create_app", "serve"]
