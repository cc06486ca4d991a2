"""The leader's pages: make a design, change it, hand it on."""

from __future__ import annotations

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]
from markupsafe import Markup

from ...drawings.qr import qr_svg
from ...drawings.sock import sock_svg
from ...forms.base import refuse
from ...forms.design_form import DesignForm, design_values, first_design
from ...group.hidden_parts import hidden_words
from ...group.invitation import invitation
from ...group.stages import day_at
from ...planning.construction.construction_words import WAYS
from ...planning.plan.design import Design
from ...planning.plan.document import PARTS_OF_SOCK
from ...planning.units import both_units
from ...store import StaleDesignError
from ..downloads import to_save
from ..links import address_of, follower_link, new_link
from ..open_pair import store
from ..request_args import unit_asked
from ..server import quotas
from ..server.security import OPEN_TOO_LONG, shown_again
from ..what_was_done import redirect_saying
from .follower import LONGEST_NAME
from .lifecycle.announcing import LONGEST
from .lifecycle.reveal import carry_on, day_given, keep_waiting, shown_waiting, waiting_for
from .lifecycle.saving import begin_design, change_design, whole_design
from .open_design import LedDesign, OpenDesign, changeable_design, led_design, usual_plan, ways_in_words

CHANGED_MEANWHILE = "The design was changed from elsewhere in the meantime. Open it again and repeat your change."
TOE_UP_ONLY = "until half the yarn is gone; only a sock from the toe up can have such a leg, so none is cuff-down"
PAPERS = ("a6", "a4", "letter")
MOST_SHOWN = 5
"""Announcements on the leader's page (ours)."""

bp = Blueprint("designs", __name__)


def _form_page(form: DesignForm, link: str | None, faults: list[str]) -> str:
    return render_template(
        "group/design_form.html",
        form=form,
        link=link,
        sends="Keep the change" if link else "Keep the design",
        faults=faults,
        unit=form.shown_unit(),
        ways=WAYS,
        parts=PARTS_OF_SOCK,
        sample=None,
        drawing_svg=None if form.refused() else _drawn(form),
    )


def _asked(form: DesignForm, link: str | None) -> Design | ResponseReturnValue:
    """The design that was sent; or the form again, in the other unit or with what is wrong."""
    if form.take_unit():
        return _form_page(form, link, [])
    design, faults = form.read_named()
    return design or (_form_page(form, link, faults), 422)


def _drawn(form: DesignForm) -> Markup | None:
    """The sock of the form as it stands, on a usual foot; None while something is wrong."""
    design, _ = form.read()
    return sock_svg(usual_plan(design), form.shown_unit()) if design else None


@bp.get("/design")
def new() -> ResponseReturnValue:
    """The form for a new design."""
    return _form_page(DesignForm(data=first_design(unit_asked("cm"))), None, [])


@bp.post("/design")
def make() -> ResponseReturnValue:
    """Keep the design and go to the leader's page; or the form again, with what is wrong."""
    form = DesignForm(request.form)
    design = _asked(form, None)
    if not isinstance(design, Design):
        return design
    if refused := quotas.refusal(quotas.DESIGNS):
        return quotas.shown_again(_form_page(form, None, [refused.description or ""]), refused)
    if _is_a_day_over(form, design):
        return _form_page(form, None, []), 422
    link = new_link()
    begin_design(link, design)
    return redirect(url_for("designs.lead", link=link), 303)


@bp.post("/design/preview")
def preview() -> ResponseReturnValue:
    """The sock of a design for the form as it stands, as a piece of the page."""
    return render_template("group/preview.html", drawing_svg=_drawn(DesignForm(request.form)))


@bp.get("/design/<link>")
def lead(link: str) -> ResponseReturnValue:
    """The leader's page: the link to hand out, and the design."""
    opened = led_design(link)
    join_url = address_of("joining.form", opened.join_link)
    frame = Markup('<iframe src="{}/grid" title="Sizes of {}" width="100%" height="600"></iframe>')
    return render_template(
        "group/design.html",
        frame=str(frame.format(join_url, opened.design.title)),
        **_shown(opened),
        link=link,
        leader_url=address_of("designs.lead", link),
        join_url=join_url,
        invitation=invitation(opened.design, join_url),
        calendar_url=address_of("joining.calendar", opened.join_link),
        join_path=url_for("joining.form", link=opened.join_link),
        qr_svg=qr_svg(join_url),
        photos=[part for part in PARTS_OF_SOCK if part in store().photos.parts(opened.version.design)],
        parts=PARTS_OF_SOCK,
        drawing_svg=sock_svg(usual_plan(opened.design), "cm"),
        announcements=[
            (one, day_at(one.at, opened.design.time_zone))
            for one in store().announcements.of_design(opened.version.design)[:MOST_SHOWN]
        ],
        longest=LONGEST,
        first=store().design_links.is_first(link),
        further=[
            (one, day_at(one.since, opened.design.time_zone))
            for one in store().design_links.further(opened.version.design)
        ],
        waiting=shown_waiting(opened),
        recovery=store().design_links.recovery(opened.version.design),
        ended=opened.version.ended and day_at(opened.version.ended, opened.design.time_zone),
        longest_name=LONGEST_NAME,
        followers=store().designs.count_followers(opened.version.design),
        today=day_at(store().moment(), opened.design.time_zone),
    )


def _shown(opened: OpenDesign) -> dict[str, object]:
    return {
        "design": opened.design,
        "version": opened.version.number,
        "constructions": ways_in_words(opened.design),
        "hidden": hidden_words(opened.design),
        "leg": both_units(opened.design.leg.length_cm) if opened.design.leg.until == "length" else TOE_UP_ONLY,
    }


@bp.get("/design/<link>/edit")
def edit(link: str) -> ResponseReturnValue:
    """The form with the design as it is; or as it waits for a day (`?waiting=2026-12-06`, to go on from: `?from=`)."""
    opened = changeable_design(link)
    day = request.args.get("waiting", "")
    base = day or request.args.get("from", "")
    design = waiting_for(link, base) if base else whole_design(opened)
    own = {"version": str(opened.version.number), "waiting": day, "reveal_on": day}
    return _form_page(DesignForm(data=design_values(design, unit_asked("cm")) | own), link, [])


@bp.post("/design/<link>/edit")
def change(link: str) -> ResponseReturnValue:
    """Keep a new version. Pairs made from an older one are offered the change; none is changed by this."""
    opened = changeable_design(link)
    form = DesignForm(request.form)
    design = _asked(form, link)
    if not isinstance(design, Design):
        return design
    if form.version.data != str(opened.version.number):
        abort(409, CHANGED_MEANWHILE)
    before = whole_design(opened)
    if _is_a_day_over(form, design) or _waits_in_two_ways(opened, form, design):
        return _form_page(form, link, []), 422
    if form.reveal_on.data:
        return _kept_for_later(opened, form, design)
    if design != before:
        if refused := quotas.refusal(quotas.DESIGNS):
            return quotas.shown_again(_form_page(form, link, [refused.description or ""]), refused)
        try:
            change_design(opened, design)
        except StaleDesignError:
            abort(409, CHANGED_MEANWHILE)
        if not before.hidden_until and not design.hidden_until:
            carry_on(opened.version.design, before, design)
    if form.waiting.data:
        store().waiting.remove(opened.version.design, form.waiting.data)
    return redirect_saying("designs.lead", "design-changed", link=link)


def _is_a_day_over(form: DesignForm, design: Design) -> bool:
    """Whether a part is to be kept secret until a day that is no day to come, which is said at its field."""
    for part, day in design.hidden_until.items():
        try:
            day_given(day.isoformat(), design)
        except ValueError as error:
            refuse(form[f"hidden_{part}"], str(error))
    return bool(form.refused())


def _waits_in_two_ways(opened: LedDesign, form: DesignForm, design: Design) -> bool:
    """Whether the whole design waits for a day as well as parts of it, which is said at the field of the one or the
    other; what waits follows from the days of the parts alone."""
    if not design.hidden_until:
        return False
    if form.reveal_on.data:
        refuse(form.reveal_on, "parts are kept secret until days of their own; give a day here, or there")
        return True
    if not opened.design.hidden_until and store().waiting.of_design(opened.version.design):
        refuse(
            form[f"hidden_{next(iter(design.hidden_until))}"],
            "a change of the whole design waits already; take that back first",
        )
        return True
    return False


def _kept_for_later(opened: LedDesign, form: DesignForm, design: Design) -> ResponseReturnValue:
    """Let the change wait for its day; or the form again, where there is no such day."""
    try:
        day = day_given(form.reveal_on.data or "", design)
    except ValueError as error:
        refuse(form.reveal_on, str(error))
        return _form_page(form, opened.link, []), 422
    quotas.take(quotas.DESIGNS)
    keep_waiting(opened, design, day, form.waiting.data or "")
    return redirect_saying("designs.lead", "waiting", link=opened.link)


@bp.post("/design/<link>/copy")
def copy(link: str) -> ResponseReturnValue:
    """Begin another design as this one is, for the next group: under links of its own, without followers."""
    opened = led_design(link)
    quotas.take(quotas.DESIGNS)
    new = new_link()
    store().designs.copy(opened.version, new, follower_link(new))
    return redirect_saying("designs.lead", "design-copied", link=new)


@bp.get("/design/<link>/design.json")
def document(link: str) -> Response:
    """The design as a document to save."""
    design = whole_design(led_design(link))
    return to_save(design.model_dump_json(indent=2, exclude_none=True), design.title, "design")


@bp.get("/design/<link>/card")
def card(link: str) -> ResponseReturnValue:
    """The follower's link on paper: a card of A6, or a sheet (`?paper=a4`, `?paper=letter`)."""
    opened = led_design(link)
    paper = request.args.get("paper", PAPERS[0])
    if paper not in PAPERS:
        abort(404, "The card is there on a6, a4 and letter.")
    join_url = address_of("joining.form", opened.join_link)
    return render_template(
        "group/design_card.html",
        **_shown(opened),
        link=link,
        paper=paper,
        join_url=join_url,
        picture_url=url_for("joining.picture", link=opened.join_link),
        qr_svg=qr_svg(join_url),
    )


@bp.errorhandler(CSRFError)
@shown_again
def stale(_error: CSRFError) -> ResponseReturnValue:
    """The form as it was filled in, with a fresh token, to be sent once more."""
    link = (request.view_args or {}).get("link")
    if link:
        led_design(link)
    return _form_page(DesignForm(request.form), link, [OPEN_TOO_LONG]), 400
