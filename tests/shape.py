"""The shape of a knitted sock, measured on its stitches: how wide, how long, and whether it mirrors."""

from dataclasses import dataclass

from tests.knitter import SLIPS, Knitted, WorkedRound

LEANS_LEFT = frozenset({"ssk", "sssk"})
LEANS_RIGHT = frozenset({"k2tog", "k3tog"})


@dataclass(frozen=True)
class Shape:
    """Lengths in cm of the fabric lying unstretched; `..._mirrored` is left against right."""

    cuff_length_cm: float
    leg_length_cm: float
    leg_cm: float
    heel_pass_cm: float
    foot_cm: float
    foot_length_cm: float
    gusset_mirrored: bool
    toe_mirrored: bool


def shape(knitted: Knitted, stitches_per_cm: float, rounds_per_cm: float) -> Shape:
    """Measure a sock with a heel flap, a turned heel and a gusset; raises ValueError if a section is missing.

    Only the foot may be: on a very short one the toe follows the gusset at once. The heel pass goes across the
    instep, across what the heel turn left, and along both edges of the flap. The foot is as long as the rows and
    rounds from the heel turn's first to the toe's last.
    """
    sections = knitted.sections()
    missing = {"cuff", "leg", "heel-flap", "heel-turn", "gusset", "toe"} - set(sections)
    if missing:
        raise ValueError(f"cannot measure a sock without {', '.join(sorted(missing))}")

    def length(*keys: str) -> float:
        return sum(map(_has_height, (worked for key in keys for worked in sections.get(key, ())))) / rounds_per_cm

    def width(key: str) -> float:
        return len(sections[key][-1].live) / stitches_per_cm

    # At the end of the heel turn, what the turn left and the instep are all that is live.
    return Shape(
        cuff_length_cm=length("cuff"),
        leg_length_cm=length("leg"),
        leg_cm=width("leg"),
        heel_pass_cm=width("heel-turn") + 2 * length("heel-flap"),
        foot_cm=width("foot" if "foot" in sections else "gusset"),
        foot_length_cm=length("heel-turn", "gusset", "foot", "toe"),
        gusset_mirrored=all(map(_mirrors_somewhere, sections["gusset"])),
        toe_mirrored=all(map(_mirrors_as_a_toe, sections["toe"])),
    )


def _has_height(worked: WorkedRound) -> bool:
    """Whether fabric grew: a cast-on, bind-off or graft and a row only slipped add nothing to the height."""
    return any(stitch.parents and stitch.op not in SLIPS for stitch in worked.made)


def _leans(worked: WorkedRound) -> list[int]:
    """Where the decreases lie along the round: -1 leans left, 1 leans right, 0 is no decrease."""
    return [(stitch.op in LEANS_RIGHT) - (stitch.op in LEANS_LEFT) for stitch in worked.made]


def _mirrors(leans: list[int], axis: int) -> bool:
    """Whether each decrease faces one of the other lean across the axis that brings stitch i to axis - i.

    The axis half - 1 folds the sole on itself and the instep on itself, as a toe must for its graft.
    """
    return all(leans[(axis - i) % len(leans)] == -lean for i, lean in enumerate(leans))


def _mirrors_somewhere(worked: WorkedRound) -> bool:
    leans = _leans(worked)
    return not any(leans) or worked.written.side != "round" or any(_mirrors(leans, axis) for axis in range(len(leans)))


def _mirrors_as_a_toe(worked: WorkedRound) -> bool:
    """Four decreases fold the sole on itself and the instep on itself; two only bring the larger half down."""
    leans = _leans(worked)
    return _mirrors(leans, len(leans) // 2 - 1) if sum(map(abs, leans)) == 4 else _mirrors_somewhere(worked)
