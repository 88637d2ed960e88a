"""What is shown where the store is damaged: what happened, and the last good back-up, to be put back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from toilewright.app.pages import TEMPLATES, page
from toilewright.app.safety import outside
from toilewright.errors import ToilewrightError
from toilewright.workroom.backups import DamagedStore, restore
from toilewright.workroom.days import minute
from toilewright.workroom.store import utc_now

if TYPE_CHECKING:
    from toilewright.app.server import Worktable


def rescue_app(problem: DamagedStore, worktable: Worktable) -> Starlette:
    """The site of a damaged store; once its back-up is put back, the worktable opens."""
    def show(request: Request) -> Response:
        return page(request, "rescue.html", 200 if request.url.path == "/" else 404, text=str(problem),
                    made=problem.backup and minute(problem.backup.made))

    async def put_back(request: Request) -> Response:
        try:
            await run_in_threadpool(_put_back, problem, worktable)
        except ToilewrightError as trouble:
            return outside(request, 422, str(trouble))
        return RedirectResponse(f"/in?key={worktable.doors.new_key()}", 303)

    return Starlette(routes=[Route("/put-back", put_back, methods=["POST"]),
                             Mount("/static", StaticFiles(directory=TEMPLATES.parent / "static")),
                             Route("/{rest:path}", show)])


def _put_back(problem: DamagedStore, worktable: Worktable) -> None:
    if problem.backup is not None:
        restore(problem.folder, problem.backup.name, utc_now())
    worktable.open_store()
