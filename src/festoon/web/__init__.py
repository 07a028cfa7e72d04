"""The page's server: pieces served to the browser on this machine, by the same functions as the command line.

`app.create_app` is the whole of it as an ASGI application; `serving.serve` runs it until Ctrl-C. Nothing is imported
here, so that a process that only works needs none of the server's libraries.
"""
