"""Photos beside a leader's notes: she keeps them, and her followers see them at the part."""

from __future__ import annotations

from flask import Blueprint, Response, abort, make_response, request
from flask.typing import ResponseReturnValue

from ...group.jpeg import MEDIA_TYPE, NotAPhotoError, bare_jpeg
from ...planning.plan.document import PARTS_OF_SOCK
from ..open_pair import open_pair, store
from ..server import quotas
from ..what_was_done import redirect_saying
from .followed_design import followed_design
from .open_design import changeable_design, led_design, photos_shown

bp = Blueprint("photos", __name__)


def _part(name: str) -> str:
    if name not in PARTS_OF_SOCK:
        abort(400, f"A photo belongs to one of these: {', '.join(PARTS_OF_SOCK)}.")
    return name


@bp.post("/design/<link>/photo")
def keep(link: str) -> ResponseReturnValue:
    """Keep a photo for a part of the design, in the place of the one before."""
    design = changeable_design(link).version.design
    file = request.files.get("photo")
    if not file:
        abort(400, "No photo was chosen. Go back and choose one.")
    given = file.read()
    file.close()
    part = _part(request.form.get("part", ""))
    try:
        image = bare_jpeg(given)
    except NotAPhotoError as error:
        abort(400, str(error))
    quotas.take(quotas.PHOTOS)
    store().photos.keep(design, part, image)
    return redirect_saying("designs.lead", "photo-kept", link=link)


@bp.post("/design/<link>/photo/<part>/remove")
def remove(link: str, part: str) -> ResponseReturnValue:
    """Take a photo away."""
    store().photos.remove(changeable_design(link).version.design, _part(part))
    return redirect_saying("designs.lead", "photo-removed", link=link)


def _answer(design: int, part: str) -> Response:
    image = store().photos.find(design, part)
    if image is None:
        abort(404)
    response = make_response(image)
    response.mimetype = MEDIA_TYPE
    response.add_etag()
    response.make_conditional(request)
    return response


@bp.get("/design/<link>/photo/<part>")
def of_design(link: str, part: str) -> Response:
    """The photo, for the leader."""
    return _answer(led_design(link).version.design, part)


@bp.get("/pair/<link>/photo/<part>")
def of_pair(link: str, part: str) -> Response:
    """The photo, for a follower."""
    led = followed_design(open_pair(link))
    if led is None or part not in photos_shown(led.newest):
        abort(404)
    return _answer(led.taken.design, part)
