"""The list of defects over HTTP."""


def test_what_is_found_comes_as_rows_and_nobody_unknown_may_ask(site):
    session = site.session_of("clerk")
    assert site.ask("GET", "/api/defects?find=crack").status_code == 401
    found = site.ask("GET", "/api/defects?find=no+such+thing", session=session)
    assert (found.status_code, found.json()) == (200, [])


def test_a_question_longer_than_anybody_asks_is_refused(site):
    session = site.session_of("clerk")
    refused = site.ask("GET", f"/api/defects?find={'x' * 401}", session=session)
    assert refused.status_code == 422
    assert set(refused.json()) == {"code", "message", "hint"}
