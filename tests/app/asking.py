"""Asks the site without a network."""

import time

import httpx
from loops import run


class Client:
    """One browser; `headers` go with everything it asks."""

    def __init__(self, app, **headers):
        self.app, self.headers = app, headers

    def ask(self, way, path, headers=None, **more):
        async def asked():
            async with httpx.AsyncClient(transport=httpx.ASGITransport(self.app), base_url="http://table") as one:
                return await one.request(way, path, headers={**self.headers, **(headers or {})}, **more)
        return run(asked())

    def get(self, path, **more):
        return self.ask("GET", path, **more)

    def post(self, path, **more):
        return self.ask("POST", path, **more)

    def finish(self, job):
        """The long work of that id, once it has ended."""
        while (found := self.get(f"/jobs/{job}").json())["state"] == "running":
            time.sleep(0.05)
        return found


def script(app):
    """A script of our pages: it wants plain values."""
    return Client(app, accept="application/json")
