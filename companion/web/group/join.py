"""What a follower's link opens: the short form, the pair that comes of it, and the design's picture."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import datetime

from flask import Blueprint, Response, abort, make_response, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]
from markupsafe import Markup

from ...drawings.either_hand import for_either_hand
from ...drawings.png import HEIGHT, WIDTH, sock_png
from ...drawings.sock import bare_sock_svg
from ...forms.join_form import JoinForm
from ...forms.shoe_size import fill_in, guess_in_force
from ...group.calendar import MEDIA_TYPE, Event, calendar_file
from ...group.hidden_parts import hidden_words
from ...group.numbers_card import NumbersCard, numbers_card
from ...group.stages import day_at
from ...planning import CannotKnitError, Plan, make_plan
from ...planning.pattern.tables import as_html
from ...planning.plan.design import Stage
from ...planning.request.size_range import CIRCUMFERENCES, GAUGES, read_feet, read_gauges
from ...store.group.designs import Following
from ...store.rows import sha256
from ..links import address_of, new_link
from ..open_pair import store
from ..request_args import unit_asked
from ..revising import begin_pair
from ..server import quotas
from ..server.security import OPEN_TOO_LONG, shown_again
from .open_design import OpenDesign, joined_design, usual_plan, ways_asked, ways_in_words
from .size_grids import size_table

TAKES_NOBODY = "This group has ended and takes nobody in any more. Plan a pair of your own."

ONLY_IN_A_PLAN = "Your leader shows the numbers only in a plan. Make your plan to see them."

bp = Blueprint("joining", __name__)


def _page(link: str, opened: OpenDesign, form: JoinForm, faults: list[str], card: NumbersCard | None = None) -> str:
    return render_template(
        "group/join.html",
        card=card,
        drawing_svg=for_either_hand(bare_sock_svg, usual_plan(opened.design)),
        form=form,
        faults=faults,
        design=opened.design,
        ended=opened.version.ended,
        today=day_at(store().moment(), opened.design.time_zone),
        constructions=ways_in_words(opened.design),
        hidden=hidden_words(opened.design),
        chosen=form.chosen(opened.design),
        guess=guess_in_force(form),
        unit=form.shown_unit(),
        join_url=address_of("joining.form", link),
        calendar_url=address_of("joining.calendar", link),
        picture_url=address_of("joining.picture", link),
        picture_size=(WIDTH, HEIGHT),
    )


@bp.get("/join/<link>")
def form(link: str) -> ResponseReturnValue:
    """The short form for foot and gauge."""
    opened = joined_design(link)
    unit = unit_asked("cm")
    return _page(link, opened, JoinForm(data={"unit": unit, "typed_unit": unit}), [])


@bp.post("/join/<link>")
def join(link: str) -> ResponseReturnValue:
    """Make the follower's own pair and go to its plan; or the form again, with what is wrong or with the figures."""
    opened = joined_design(link)
    filled = JoinForm(request.form)
    if filled.take_unit():
        return _page(link, opened, filled, [])
    if "fill" in request.form:
        fill_in(filled)
        return _page(link, opened, filled, [])
    if "numbers" in request.form:
        return _with_numbers(link, opened, filled)
    (plan, other), faults = _planned(filled, opened)
    if plan is None:
        return _page(link, opened, filled, faults), 422
    if refused := quotas.refusal(quotas.PAIRS):
        return quotas.shown_again(_page(link, opened, filled, [refused.description or ""]), refused)
    pair_link = new_link()
    follows = Following(opened.version.design, opened.version.number)
    begin_pair(pair_link, plan, filled.shown_unit(), other, follows)
    return redirect(url_for("pages.plan", link=pair_link), 303)


def _with_numbers(link: str, opened: OpenDesign, filled: JoinForm) -> ResponseReturnValue:
    """The form with the figures for what is filled in, in each construction allowed, the chosen one first."""
    if opened.design.numbers_hidden:
        return _page(link, opened, filled, [ONLY_IN_A_PLAN]), 422
    wanted = filled.request(opened.design)
    if wanted is None:
        return _page(link, opened, filled, []), 422
    return _page(link, opened, filled, [], numbers_card(wanted, opened.design, filled.shown_unit()))


def _planned(filled: JoinForm, opened: OpenDesign) -> tuple[tuple[Plan | None, Plan | None], list[str]]:
    """The plans of sock one, and of sock two where the feet differ; without the first, what is wrong."""
    wanted = filled.request(opened.design)
    if wanted is None or opened.version.ended:
        return (None, None), [TAKES_NOBODY] if opened.version.ended else []
    try:
        plan = make_plan(wanted)
    except CannotKnitError as error:
        return (None, None), filled.take_faults([error.fault])
    try:
        return (plan, make_plan(wanted.for_the_other_foot()) if wanted.two_feet else None), []
    except CannotKnitError as error:
        return (None, None), [f"The other foot: {error.fault.message}"]


@bp.get("/join/<link>/sock.png")
def picture(link: str) -> Response:
    """The sock as a picture, for previews of the link."""
    response = make_response(sock_png(usual_plan(joined_design(link).design)))
    response.mimetype = "image/png"
    return response


@bp.get("/join/<link>/grid")
def grid(link: str) -> ResponseReturnValue:
    """The size grid of the design, to look at and to be shown in another site's frame (`?unit=in&construction=2`)."""
    design = joined_design(link).design
    if design.numbers_hidden:
        abort(403, ONLY_IN_A_PLAN)
    ways, unit = ways_asked(design), unit_asked("cm")
    feet, _ = read_feet(CIRCUMFERENCES[unit], (), unit)
    gauges, _ = read_gauges(GAUGES, unit)
    table = Markup(as_html(size_table(ways.design, feet, gauges, unit)))
    return render_template("group/grid.html", design=ways.design, ways=ways, unit=unit, table=table)


@bp.get("/join/<link>/stages.ics")
def calendar(link: str) -> Response:
    """The days of the stages as a calendar file, to be saved, or followed by a calendar under this address."""
    design = joined_design(link).design
    address = address_of("joining.form", link)
    events = [
        Event(
            uid=f"{name}@tapeline",
            name=f"{design.title}: {stage.name}",
            when=stage.by,
            about=f"Sock {stage.sock}, by the end of the day in {design.time_zone}.",
            address=address,
        )
        for name, stage in _named(link, design.stages)
    ]
    text = calendar_file(design.title, events, datetime.fromisoformat(store().moment()))
    return Response(text, content_type=MEDIA_TYPE)


def _named(link: str, stages: Sequence[Stage]) -> Iterator[tuple[str, Stage]]:
    """Each stage under a name that it keeps for calendars: by the part that it ends with, whatever its day.

    Only several to the end of the same part are told apart by their own names.
    """
    ends = Counter((stage.sock, stage.until) for stage in stages)
    for stage in stages:
        own = f" {stage.name}" if ends[stage.sock, stage.until] > 1 else ""
        yield sha256(f"{link} {stage.sock} {stage.until}{own}")[:32], stage


@bp.errorhandler(CSRFError)
@shown_again
def stale(_error: CSRFError) -> ResponseReturnValue:
    """The form as it was filled in, with a fresh token, to be sent once more."""
    link = str((request.view_args or {}).get("link", ""))
    return _page(link, joined_design(link), JoinForm(request.form), [OPEN_TOO_LONG]), 400
