"""Settings are read once and each is told in the documentation's table."""

from datetime import date
from pathlib import Path

import pytest
from skinpin.domain.errors import Refused
from skinpin.settings import DEMO_DAY, read_settings


def test_without_variables_everything_lies_in_the_data_folder(tmp_path):
    settings = read_settings(tmp_path / "book", {})
    assert settings.database == f"sqlite:///{tmp_path / 'book' / 'book.sqlite'}"
    assert settings.photographs == tmp_path / "book" / "photographs"
    assert settings.today is None
    assert settings.hosts == ()


def test_variables_go_before(tmp_path):
    given = {
        "SKINPIN_DATABASE": "postgresql://db/skinpin",
        "SKINPIN_PHOTOGRAPHS": str(tmp_path / "pictures"),
        "SKINPIN_TODAY": "2025-11-03",
        "SKINPIN_HOSTS": "shed.example quay.local",
    }
    settings = read_settings(Path("book"), given)
    assert settings.database == "postgresql://db/skinpin"
    assert settings.photographs == tmp_path / "pictures"
    assert settings.today == date(2025, 11, 3)
    assert settings.hosts == ("shed.example", "quay.local")


def test_a_demo_folder_names_the_day_its_book_runs_on_and_the_variable_goes_before(tmp_path):
    assert read_settings(tmp_path, {}).today is None
    (tmp_path / DEMO_DAY).write_text("2025-11-03\n", encoding="utf-8")
    assert read_settings(tmp_path, {}).today == date(2025, 11, 3)
    assert read_settings(tmp_path, {"SKINPIN_TODAY": "2025-12-01"}).today == date(2025, 12, 1)
    (tmp_path / DEMO_DAY).write_text("soon", encoding="utf-8")
    with pytest.raises(Refused, match="is 'soon', which is not a date"):
        read_settings(tmp_path, {})


@pytest.mark.parametrize(
    "wrong",
    [
        {"SKINPIN_TODAY": "3 November"},
        {"SKINPIN_PHOTOGRAPHS": "s3://bucket"},
        {"SKINPIN_PHOTOGRAPHS": "ftp://x"},
    ],
)
def test_a_setting_that_can_not_be_used_is_one_sentence(tmp_path, wrong):
    with pytest.raises(Refused) as refused:
        read_settings(tmp_path, wrong)
    assert refused.value.code == "bad_setting"
    assert next(iter(wrong.values())) in refused.value.message


def test_a_store_is_named_by_its_address_and_the_usual_names_of_its_key(tmp_path):
    given = {
        "SKINPIN_PHOTOGRAPHS": "s3://marram/book/",
        "AWS_ACCESS_KEY_ID": "id",
        "AWS_SECRET_ACCESS_KEY": "kept to itself",
        "AWS_ENDPOINT_URL": "http://127.0.0.1:9000/",
    }
    settings = read_settings(tmp_path, given)
    store = settings.objects
    assert (store.bucket, store.prefix, store.endpoint) == (
        "marram",
        "book",
        given[KEYED].rstrip("/"),
    )
    assert settings.photographs == tmp_path / "photographs"
    assert "kept to itself" not in repr(settings)
    usual = read_settings(tmp_path, {**given, KEYED: "", "AWS_REGION": "eu-west-2"}).objects
    assert usual.endpoint == "https://s3.eu-west-2.amazonaws.com"


KEYED = "AWS_ENDPOINT_URL"
