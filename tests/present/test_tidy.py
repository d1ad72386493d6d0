"""The shelf kept tidy: what is asked of a warp, and what is said when it is done."""

from __future__ import annotations

from companion.present.asking import Answered, AskedToWrite
from companion.present.start import MenuItem
from companion.present.tidy import (
    BinDraft,
    BinWarp,
    CopyDraft,
    CopyWarp,
    Emptied,
    EmptyBin,
    RenameDraft,
    RenameWarp,
    TakeOutOfBin,
    ask_tidy,
    binned_item,
    tidied_words,
)


def named(*names):
    return [MenuItem(name, name) for name in names]


def lead(asked, *words):
    for word in words:
        (answer,) = (answer for answer in (*asked.answers, *asked.foot) if answer.words == word)
        asked = answer.leads_to()
    return asked


def test_a_warp_is_renamed_copied_or_put_into_the_bin():
    asked = ask_tidy(named("Rug", "Rug 2"), ())
    written = lead(asked, "Rug", "Another name")
    assert (written.words, written.written) == ("Another name for Rug", "Rug")
    assert written.leads_to("Mat") == Answered(RenameWarp("Rug", "Mat"))
    copied = lead(asked, "Rug", "A copy, with its picks")
    assert isinstance(copied, AskedToWrite)
    assert copied.leads_to(copied.written) == Answered(CopyWarp("Rug", "Rug 3")), "Rug 2 is there already"
    assert lead(asked, "Rug 2", "Into the bin") == Answered(BinWarp("Rug 2"))


def test_an_empty_bin_is_not_offered_and_a_full_one_is_emptied_only_after_a_question():
    assert ask_tidy(named("Rug"), ()).foot == ()
    asked = ask_tidy((), (MenuItem("key", "Towel", "thrown away 3 days ago"),))
    assert asked.detail == "No warp is on the shelf"
    assert lead(asked, "The bin: 1", "Towel") == Answered(TakeOutOfBin("key"))
    sure = lead(asked, "The bin: 1", "Empty it")
    assert sure.detail == "1 warp, with every pick noted; no way back"
    assert lead(sure, "Remove for good") == Answered(EmptyBin())
    assert sure.main is None, "a pedal trodden by mistake removes nothing"


def test_a_new_name_says_which_sets_follow():
    renamed = RenameWarp("Scarf", "Shawl")
    assert tidied_words(renamed, "Shawl", sets=["Mats"]) == "Scarf is called Shawl now, in the set Mats too"
    assert tidied_words(renamed, "Shawl", sets=["Mats", "Wool"]) == "Scarf is called Shawl now, in 2 sets too"


def test_what_was_done_is_said_in_a_line():
    assert tidied_words(RenameWarp("Rug", "Mat"), "Mat") == "Rug is called Mat now"
    assert tidied_words(CopyWarp("Rug", "Mat"), "Mat") == "Mat is a copy of Rug"
    assert tidied_words(BinWarp("Rug"), "Rug") == "Rug is in the bin, whole"
    assert tidied_words(TakeOutOfBin("key"), "Rug 2") == "Rug 2 is back on the shelf"
    assert tidied_words(EmptyBin(), "", Emptied(2)) == "2 warps removed for good"
    assert ask_tidy(named("Mat"), (), "Rug is called Mat now").detail == "Rug is called Mat now"


def test_a_warp_in_the_bin_says_since_when_and_a_clock_set_back_does_no_harm():
    assert binned_item("k", "Rug", 3 * 86_400_000).detail == "thrown away 3 days ago"
    assert binned_item("k", "Rug", -5).detail == "thrown away just now"


def test_a_draft_of_ones_own_is_renamed_copied_or_put_into_the_bin_too():
    key, binned = "/home/w/Documents/towel.wif", (MenuItem("/bin/7/mat.wif", "mat", "draft"),)
    asked = ask_tidy(named("Rug"), binned, "", (MenuItem(key, "towel", "Documents"),))
    assert [answer.detail for answer in asked.answers] == ["warp", "draft · Documents"]
    assert lead(asked, "towel", "Another name").leads_to("mat") == Answered(RenameDraft(key, "mat"))
    assert lead(asked, "towel", "A copy").leads_to("mat") == Answered(CopyDraft(key, "mat"))
    assert lead(asked, "towel", "Into the bin") == Answered(BinDraft(key))
    assert lead(asked, "The bin: 1", "Empty it").detail == "1 draft; no way back"
    assert tidied_words(RenameDraft(key, "mat"), "mat") == "towel is called mat now"
    assert tidied_words(EmptyBin(), "", Emptied(2, 1)) == "2 warps and 1 draft removed for good"
    assert tidied_words(TakeOutOfBin("/bin/7/mat.wif"), "mat") == "mat is back"


def test_a_set_in_the_bin_is_told_from_a_warp():
    binned = binned_item("/data/bin/1/Mats.set", "Mats", 0, "set")
    assert binned.detail == "set, thrown away just now"
    sure = lead(ask_tidy((), (binned,)), "The bin: 1", "Empty it")
    assert sure.detail == "1 set; no way back"
    assert tidied_words(TakeOutOfBin(binned.key), "Mats") == "Mats is back"
    assert tidied_words(EmptyBin(), "", Emptied(2, 1, 1)) == "2 warps, 1 draft and 1 set removed for good"
