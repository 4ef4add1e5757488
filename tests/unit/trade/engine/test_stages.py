"""The stages of a job are ten, each with what must be recorded, and cautions where a step can hurt."""

from witnessmark.trade.engine.stages import ALWAYS, CAUTIONS, CHECKLISTS, CODES, item_words, stage_words


def test_a_job_goes_through_ten_stages_from_intake_to_return():
    assert CODES == ("intake", "tests", "strip", "measure", "agree", "machining", "build", "run", "release", "return")
    assert stage_words("measure") == "clean and measure"
    assert stage_words("from a later version") == "from a later version"


def test_each_stage_has_a_checklist_whose_items_are_told_apart():
    for stage, items in CHECKLISTS.items():
        assert items, stage
        assert len({item["item"] for item in items}) == len({item["words"] for item in items}) == len(items)
    assert item_words("strip", "shells").startswith("Pictures of both shells")
    assert item_words("strip", "an_older_item") == "an older item"


def test_before_a_compression_test_one_reads_to_disable_fuel_and_ignition():
    assert any("disable fuel and ignition" in caution for caution in CAUTIONS["tests"])
    assert any("Stretch bolts" in caution for caution in CAUTIONS["build"])
    assert "maker's data and local codes come first" in ALWAYS


def test_a_caution_is_one_line():
    assert all(len(caution) <= 120 for cautions in CAUTIONS.values() for caution in cautions)
