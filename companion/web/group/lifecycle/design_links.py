"""Who holds which link of a design: further leaders beside the first, and another link for those who are to join."""

from __future__ import annotations

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ...links import address_of, new_link
from ...open_pair import store
from ...server import quotas
from ...what_was_done import redirect_saying
from ..follower import LONGEST_NAME
from ..open_design import changeable_design, own_design

bp = Blueprint("design_links", __name__)


@bp.post("/design/<link>/replace")
def replace(link: str) -> ResponseReturnValue:
    """Hand another link out to followers. The one before opens nothing any more; who has joined keeps her pair."""
    design = changeable_design(link).version.design
    quotas.take(quotas.DESIGNS)
    store().design_links.hand_out(design, new_link())
    return redirect_saying("designs.lead", "link-replaced", link=link)


@bp.post("/design/<link>/leaders")
def add(link: str) -> ResponseReturnValue:
    """Make a link for a further leader, who does all that the first one can but decide who leads, and delete."""
    led = own_design(link)
    name = " ".join(request.form.get("name", "").split())
    if not 0 < len(name) <= LONGEST_NAME or not name.isprintable():
        abort(400, f"A name of 1 to {LONGEST_NAME} letters is needed, to know the link by. Go back and fill it in.")
    quotas.take(quotas.DESIGNS)
    further = new_link()
    if not store().design_links.add(led.version, further, name, led.join_link):
        abort(409, "So many lead this design that no more can. Take a link away first.")
    return render_template(
        "group/further_leader.html",
        design=led.design,
        link=link,
        name=name,
        further_url=address_of("designs.lead", further),
    )


@bp.post("/design/<link>/leaders/remove")
def remove(link: str) -> ResponseReturnValue:
    """Take a further leader's link away."""
    store().design_links.remove(own_design(link).version.design, request.form.get("key", ""))
    return redirect_saying("designs.lead", "leader-removed", link=link)
