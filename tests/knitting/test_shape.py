"""The measured shape of socks that are small enough to be measured by hand."""

import pytest

from tests.knitter import knit
from tests.knitting.tiny_socks import afterthought_sock, at, bound_off, line, part, short_rows, sock, toe_up_sock, tube
from tests.reader import read_words
from tests.shape import shape


def test_a_sock_with_flap_gusset_and_grafted_toe_has_the_shape_of_its_stitches() -> None:
    measured = shape(knit(sock()), stitches_per_cm=2.0, rounds_per_cm=4.0)
    assert measured.cuff_length_cm == 1.0  # 4 rounds, the cast-on without height
    assert measured.leg_length_cm == 3.0
    assert measured.leg_cm == measured.foot_cm == 8.0
    assert measured.heel_pass_cm == 8 / 2 + 6 / 2 + 2 * 8 / 4  # instep, turned heel, two edges of the flap
    assert measured.foot_length_cm == (2 + 9 + 10 + 2) / 4  # turn, gusset, foot, toe without its graft
    assert (measured.heel_mirrored, measured.gusset_mirrored, measured.toe_mirrored) == (True, True, True)


def test_a_sock_from_the_toe_up_has_the_shape_of_its_stitches() -> None:
    measured = shape(knit(toe_up_sock()), stitches_per_cm=2.0, rounds_per_cm=4.0)
    assert measured.cuff_length_cm == 1 / 4
    assert measured.leg_length_cm == 6 / 4
    assert measured.leg_cm == measured.foot_cm == 8.0
    # Beyond the fold of the toe lie 4 rows and a round, before the fold of the heel 2 rows and 4 that narrow.
    assert measured.foot_length_cm == (5 + 10 + 6) / 4
    # The instep, the middle of 4, and two slopes over 2 stitches in 4 rows: each 1 cm along and 1 cm up.
    assert measured.heel_pass_cm == pytest.approx(8 / 2 + 4 / 2 + 2 * 2**0.5)
    assert (measured.heel_mirrored, measured.gusset_mirrored, measured.toe_mirrored) == (True, True, True)


def test_a_sock_with_an_afterthought_heel_has_the_shape_of_its_stitches() -> None:
    measured = shape(knit(afterthought_sock()), stitches_per_cm=2.0, rounds_per_cm=4.0)
    assert measured.leg_cm == measured.foot_cm == 8.0
    assert measured.foot_length_cm == (4 + 1 + 10 + 3) / 4  # heel without its graft, over the waste yarn, foot, toe
    # The instep, the grafted middle of 5, and two slopes from 9 stitches to 5 in 4 rounds.
    assert measured.heel_pass_cm == pytest.approx(8 / 2 + 5 / 2 + 2 * (1**2 + 1**2) ** 0.5)
    assert (measured.heel_mirrored, measured.gusset_mirrored, measured.toe_mirrored) == (True, True, True)


def test_short_rows_that_turn_early_on_one_side_only_are_not_mirrored() -> None:
    document = toe_up_sock()
    rows = short_rows("k8 | p8 | k6 | ds, p5 | k4 | ds, p3 | k2 | ds, p1", 16)
    closing = line("[k1, kds] x 3, k10", 16, 16)
    document["sections"][2] = part("heel", *rows, closing)
    measured = shape(knit(document), 2.0, 4.0)
    assert not measured.heel_mirrored
    assert measured.toe_mirrored


def test_a_round_toe_whose_decreases_crowd_is_not_mirrored() -> None:
    document = afterthought_sock()
    at(document, 20)["work"][0]["ops"] = read_words("[k2tog] x 4, k8")
    assert not shape(knit(document), 2.0, 4.0).toe_mirrored


@pytest.mark.parametrize(
    "words", ["[k2, ssk, k1, k2tog, k1] x 2", "[k1, k2tog, k2, k2tog, k1] x 2", "k1, ssk x 2, k6, k2tog x 2, k1"]
)
def test_a_toe_that_leans_to_one_side_is_not_mirrored(words: str) -> None:
    document = sock()
    at(document, 47)["work"][0]["ops"] = read_words(words)
    measured = shape(knit(document), 2.0, 4.0)
    assert not measured.toe_mirrored
    assert measured.gusset_mirrored


def test_a_round_only_slipped_adds_no_height() -> None:
    document = sock()
    at(document, 10)["work"][0]["ops"] = read_words("sl16")
    assert shape(knit(document), 2.0, 4.0).leg_length_cm == 11 / 4


def test_rounds_on_the_way_to_the_count_of_the_leg_are_no_part_of_its_width() -> None:
    document = toe_up_sock()
    widened = line("[k8, m1l] x 2", 16, 18, "increase"), line("k18", 18, 18), line("[k9, m1l] x 2", 18, 20, "increase")
    ribbing = line("[k1, p1] x 10", 20, 20), line("bind off 20", 20, 0, "finish")
    document["sections"][3:] = [part("leg", *widened, line("k20", 20, 20)), part("cuff", *ribbing)]
    assert shape(knit(document), 2.0, 4.0).leg_cm == 10.0


def test_a_foot_without_rounds_is_as_wide_as_the_end_of_the_gusset() -> None:
    document = sock()
    document["sections"][5]["steps"] = []
    measured = shape(knit(document), 2.0, 4.0)
    assert measured.foot_cm == 8.0
    assert measured.foot_length_cm == (2 + 9 + 2) / 4


def test_a_gusset_that_decreases_twice_to_the_same_side_is_not_mirrored() -> None:
    document = sock()
    at(document, 30)["work"][0]["ops"] = read_words("ssk, k12, ssk, k8")
    assert not shape(knit(document), 2.0, 4.0).gusset_mirrored


def test_a_tube_cannot_be_measured_as_a_sock() -> None:
    with pytest.raises(ValueError, match="without heel"):
        shape(knit(tube()), 2.0, 4.0)


def test_a_turned_heel_without_a_gusset_cannot_be_measured() -> None:
    document = sock()
    document["sections"] = [*document["sections"][:4], bound_off(14)]
    with pytest.raises(ValueError, match="without gusset"):
        shape(knit(document), 2.0, 4.0)
