"""A cloth planned by touch, without a window: what is told, what is usual, and what each line leads to."""

from __future__ import annotations

import pytest

from companion.draft.model import LaidIn, Section
from companion.draft.units import Units
from companion.present.plan_cloth import LEAVE_OUT, SHOW, USE_THIS, WRITE_YARN, ask_plan
from companion.weaving.cloth_plan import ClothWished, PlanFact, plan_cloth
from companion.weaving.errors import WeavingError
from tests.draft.structures import draft_in
from tests.weaving.world import lever_draft

TOWEL = {PlanFact.WIDTH: 45.72, PlanFact.LENGTH: 182.88}
"""18 by 72 in (1 in = 2.54 cm; NIST Special Publication 811, appendix B)."""


def begun(told=TOWEL, draft=None, units=Units.INCH):
    return ask_plan(ClothWished(told, {}, draft=draft), "Plan towel", units)


def follow(asked, *words):
    for word in words:
        every = (*asked.answers, *asked.pad, *asked.foot)
        asked = next(answer for answer in every if answer.words == word).leads_to()
    return asked


def rows(asked):
    return {answer.words: answer.detail for answer in asked.answers}


def test_at_first_nothing_is_set_and_what_is_usual_is_said_to_be():
    shown = rows(begun({}))
    assert {shown[name] for name in ("Finished width", "Warp yarn", "Weft yarn", "Sett", "Reed")} == {"not set"}
    assert (shown["Draw-in"], shown["Loom waste"]) == ("5 %, as usual", "27 in, as usual")
    assert "the finished width is not set" in begun({}).detail


def test_the_warp_yarn_is_the_weft_until_another_one_is_told():
    asked = follow(begun(), "Warp yarn", "8/2 cotton")
    shown = rows(asked)
    assert (shown["Warp yarn"], shown["Weft yarn"]) == ("8/2 cotton, 3,360 yd/lb",) * 2
    shown = rows(follow(asked, "Weft yarn", "16/2 linen"))
    assert (shown["Warp yarn"][:10], shown["Weft yarn"][:10]) == ("8/2 cotton", "16/2 linen")


def test_a_sett_is_chosen_by_weave_typed_or_left_out_again():
    asked = follow(begun(), "Warp yarn", "8/2 cotton")
    setts = rows(follow(asked, "Sett"))
    assert setts["Plain weave"] == "19.6 per inch"
    assert setts["Lace"] == "17.6 per inch"
    twill = follow(asked, "Sett", "2/2 twill")
    assert rows(twill)["Sett"] == "26.1 per inch, for 2/2 twill"
    typed = follow(twill, "Sett", "Another sett", "2", "4", "Done")
    assert rows(typed)["Sett"] == "24.0 per inch"
    assert rows(follow(typed, "Sett", "Another sett", LEAVE_OUT))["Sett"] == "26.1 per inch, for 2/2 twill"


def test_a_double_cloth_is_offered_twice_the_sett_of_one_layer_and_says_so():
    """8/2 cotton in plain weave is 19.6 per inch in one layer: two, each as if alone, are 39.1 (by hand 2 x 19.57)."""
    draft = draft_in("double-weave-four-shaft.txt")
    asked = follow(begun(draft=draft), "Warp yarn", "8/2 cotton")
    assert rows(asked)["Sett"] == "39.1 per inch, for plain weave, 2 layers"
    setts = rows(follow(asked, "Sett"))
    assert next(iter(setts)) == "Plain weave, 2 layers"
    assert setts["Plain weave, 2 layers"] == "39.1 per inch, twice that of one, nearest to this draft"
    assert setts["Plain weave, 1 layer"] == "19.6 per inch"
    one = follow(asked, "Sett", "Plain weave, 1 layer")
    assert rows(one)["Sett"] == "19.6 per inch, for plain weave"
    assert rows(follow(one, "Sett", "Plain weave, 2 layers"))["Sett"] == rows(asked)["Sett"]


def test_layers_that_nothing_tells_are_told_by_the_weaver():
    asked = follow(begun(), "Warp yarn", "8/2 cotton", "Sett", "Layers", "3", "Done")
    setts = rows(asked)
    assert setts["Plain weave, 3 layers"] == "58.7 per inch, three times that of one"
    assert rows(follow(asked, "Plain weave, 3 layers"))["Sett"] == "58.7 per inch, for plain weave, 3 layers"


def test_what_it_takes_names_every_yarn_with_its_cones_and_leads_to_what_changes_it():
    draft = lever_draft([0, 1])
    asked = follow(begun(draft=draft), "Warp yarn", "8/2 cotton", "Sett", "Plain weave")
    asked = follow(asked, "Reed", "1", "0", "Done")
    asked = follow(asked, "A cone or skein", "8", "Done")
    assert asked.detail == "421 ends, 21.1 in wide in the reed; a warp of 115.9 in (3.22 yd)"
    assert rows(asked)["Sett"] == "19.6 per inch, for plain weave; 20.0 with this reed"
    shown = follow(asked, SHOW)
    assert rows(shown)["421 ends"] == "21.1 in wide, 20.0 per inch"
    assert rows(shown)["Reed"] == "10.0 per inch, 2 in a dent"
    assert rows(shown)["Warp sand"].endswith("1 x 8.0 oz")
    assert rows(shown)["Warp to wind"] == "115.9 in (3.22 yd)"
    assert {"Weft sand", "Weft sea"} <= rows(shown).keys()
    assert "common practice" in shown.detail
    assert rows(shown)["8/2 cotton"] == "3,360 yd/lb"
    assert "cotton count: hanks of 840 yd in a pound (ASTM D2260)" in follow(shown, "8/2 cotton").detail
    assert rows(follow(shown, "Reed", "1", "2", "Done"))["Reed"] == "12 per inch"


def test_dents_are_mixed_by_turns_for_a_sett_that_was_typed_and_picks_follow_the_ends():
    asked = follow(begun(), "Warp yarn", "8/2 cotton")
    asked = follow(asked, "Sett", "Another sett", "1", "5", "Done")
    shown = rows(follow(asked, "Reed", "1", "0", "Done", SHOW))
    assert shown["316 ends"] == "21.1 in wide, 15.0 per inch"
    assert shown["Reed"] == "10.0 per inch, 1 and 2 ends by turns"
    assert shown["Woven"].endswith("15.0 picks per inch")


def test_a_yarn_that_cannot_be_read_is_told_and_asked_for_again():
    asked = follow(begun(), "Warp yarn")
    write = follow(asked, WRITE_YARN)
    assert "is no size of yarn" in write.leads_to("eight two").detail
    assert rows(follow(write.leads_to("30 tex"), USE_THIS))["Warp yarn"].startswith("30 tex")


def test_how_a_yarn_was_read_is_told_where_it_is_asked_for_and_an_estimate_with_its_range():
    turned = follow(follow(begun(), "Warp yarn"), WRITE_YARN).leads_to("2/8")
    assert turned.lines[0] == "3,360 yd/lb"
    assert "the same as 8/2; no fibre is named" in turned.lines[1]
    assert "the same as 8/2; no fibre is named" in follow(turned, USE_THIS, "Warp yarn").detail
    wrapped = follow(follow(begun(), "Warp yarn"), WRITE_YARN).leads_to("18 wpi")
    assert "weigh a length to be sure" in wrapped.lines[1]
    assert rows(follow(wrapped, USE_THIS))["Warp yarn"] == "18 wpi, 1,467 yd/lb (from 1,198 yd/lb to 1,837 yd/lb)"


@pytest.mark.parametrize("lacking", [PlanFact.WIDTH, PlanFact.LENGTH])
def test_no_plan_is_made_of_half_a_size(lacking):
    told = {fact: value for fact, value in TOWEL.items() if fact is not lacking} | {PlanFact.SETT: 8.0}
    with pytest.raises(WeavingError, match=f"finished {lacking.value}"):
        plan_cloth(ClothWished(told, {}))


def test_what_is_laid_in_takes_its_own_length_not_the_width_of_the_reed():
    """By hand: half of the picks are of sea, each 30 cm long whatever the width; sand goes across with a tenth more."""
    body = Section("mat", 2, laid_in=(LaidIn(1, 30.0),))
    told = {PlanFact.WIDTH: 50.0, PlanFact.LENGTH: 90.0, PlanFact.SETT: 8.0, PlanFact.PICKS: 4.0}
    planned = plan_cloth(ClothWished(told, {}, draft=lever_draft([0, 1], [body])))
    sand, sea = planned.weft
    assert sand.threads == sea.threads == planned.plan.picks // 2
    assert sea.metres == pytest.approx(sea.threads * 0.30)
    assert sand.metres == pytest.approx(sand.threads * planned.plan.width_in_reed_cm * 1.1 / 100)


def test_what_is_laid_in_at_no_known_length_is_said_and_asked_for():
    body = Section("mat", 2, laid_in=(LaidIn(1),))
    asked = follow(begun(draft=lever_draft([0, 1], [body])), "Warp yarn", "8/2 cotton")
    shown = follow(asked, SHOW)
    assert "Sea laid in, length not set: each taken as " in shown.detail
    told = follow(asked, "Laid in at each pick", "sea", *"14", "Done", "Done")
    assert rows(told)["Laid in at each pick"] == "sea, 14 in each"
    assert "laid in" not in follow(told, SHOW).detail


def test_the_sett_that_suits_the_draft_comes_first_and_the_weaver_still_chooses():
    asked = follow(begun(draft=lever_draft([0] * 8)), "Warp yarn", "8/2 cotton")
    assert rows(asked)["Sett"] == "26.1 per inch, for 2/2 twill"
    setts = rows(follow(asked, "Sett"))
    assert next(iter(setts)) == "2/2 twill"
    assert setts["2/2 twill"] == "26.1 per inch, nearest to this draft"
    assert rows(follow(asked, "Sett", "Plain weave"))["Sett"] == "19.6 per inch, for plain weave"


def test_every_fact_is_kept_at_once_so_that_no_way_back_loses_it():
    kept = []
    follow(ask_plan(ClothWished({}, {}), "Plan towel", Units.INCH, kept.append), "Finished width", *"18", "Done")
    assert [wished.told for wished in kept] == [{PlanFact.WIDTH: pytest.approx(45.72)}]


def test_a_section_woven_to_a_length_fills_it_and_every_piece_begins_with_its_first_pick():
    """By hand: 25 cm at 4 picks per cm are 100 picks of a piece, a hem of 2 and 80 for 20 cm, then 2 and 16 again."""
    draft = lever_draft([0, 0, 1], [Section("hem", 2), Section("body", 1, until_cm=20.0)])
    told = {PlanFact.WIDTH: 50.0, PlanFact.LENGTH: 25.0, PlanFact.SETT: 8.0, PlanFact.PICKS: 4.0}
    told |= {PlanFact.SHRINKAGE: 0.0, PlanFact.PIECES: 3}
    sand, sea = plan_cloth(ClothWished(told, {}, draft=draft)).weft
    assert (sand.threads, sea.threads) == (3 * (2 + 2), 3 * (80 + 16))
