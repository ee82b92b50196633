"""Paper over the wire."""

from tests.services.test_paper import LINE, register


def test_a_line_is_stored_or_its_columns_are_named(site):
    session = site.session_of("inspector")
    told = site.ask("POST", "/api/paper", session=session, json={"typed": LINE})
    assert told.json() == {"number": "A/0001", "troubles": []}
    wrong = {"typed": LINE | {"paper_number": "18", "depth": "deep"}}
    told = site.ask("POST", "/api/paper", session=session, json=wrong).json()
    assert [one["column"] for one in told["troubles"]] == ["depth"]


def test_a_register_comes_in_as_a_whole(site):
    session = site.session_of("lead")
    told = site.ask("POST", "/api/paper/register", session=session, content=register(LINE)).json()
    assert (told["stored"], told["numbers"], told["troubles"]) == (1, ["A/0001"], [])
    again = site.ask("POST", "/api/paper/register", session=session, content=register(LINE))
    assert (again.json()["stored"], again.json()["here"]) == (0, 1)


def test_what_is_no_line_is_refused(site):
    session = site.session_of("lead")
    for body in ({}, {"typed": {"depth": 5}}, {"typed": {"colour": "x" * 5000}, "more": 1}):
        answer = site.ask("POST", "/api/paper", session=session, json=body)
        assert answer.status_code == 422
        assert answer.json()["code"] == "wrong_shape"


def test_the_form_is_a_pdf(site):
    answer = site.ask("GET", "/api/paper/form.pdf", session=site.session_of("clerk"))
    assert answer.content.startswith(b"%PDF-")
