"""The description of the API is valid by an outside judge, and names no door that is not guarded."""

from __future__ import annotations

from openapi_spec_validator import OpenAPIV31SpecValidator

# Read or written without a sign-in: joining, what stands on the door, signing in and out, what tus can do, and the
# page that explains the certificate to a phone that does not trust it yet.
OPEN = {
    ("post", "/api/sync/join"),
    ("get", "/api/office/door"),
    ("post", "/api/office/sign-in"),
    ("post", "/api/office/sign-out"),
    ("options", "/api/media/uploads"),
    ("get", "/certificate"),
    ("get", "/certificate/workshop-ca.crt"),
}
VERBS = ("get", "post", "put", "patch", "delete", "head", "options")


def described(office) -> dict:
    return office.app.test_client().get("/api/openapi.json").get_json()


def test_the_description_is_valid_openapi_3_1(office):
    """Judge: openapi-spec-validator, OpenAPI Specification 3.1."""
    assert [error.message for error in OpenAPIV31SpecValidator(described(office)).iter_errors()] == []


def test_every_operation_says_what_it_answers_when_all_is_well(office):
    silent = [
        (verb, path)
        for path, verbs in described(office)["paths"].items()
        for verb in (verb for verb in verbs if verb in VERBS)
        if not any(status.startswith("2") for status in verbs[verb]["responses"])
    ]
    assert silent == []


def test_every_error_is_described_in_the_one_shape_errors_have(office):
    shape = described(office)["components"]["schemas"]["ErrorAnswer"]
    assert set(shape["required"]) == {"code", "message", "where"}


def test_every_described_address_asks_who_is_there(office):
    """Each is asked as a stranger would; 401 is the only answer, whatever else is wrong with the question."""
    stranger = office.app.test_client()
    stranger.environ_base["HTTP_X_WITNESSMARK"] = "office"
    stranger.environ_base["HTTP_TUS_RESUMABLE"] = "1.0.0"
    let_in = []
    for path, verbs in described(office)["paths"].items():
        address = path
        for name in ("job", "person", "phone", "engine_type", "gauge", "sheet", "tool", "entry", "pack", "sound"):
            address = address.replace(f"{{{name}}}", "00000000-0000-4000-8000-000000000000")
        address = address.replace("{sha256}", "0" * 64).replace("{edge}", "320").replace("{name}", f"{'0' * 64}.9")
        for verb in (verb for verb in verbs if verb in VERBS and (verb, path) not in OPEN):
            answer = stranger.open(address, method=verb.upper(), json={} if verb in ("post", "put") else None)
            if answer.status_code != 401:
                let_in.append((verb, path, answer.status_code))
    assert let_in == []
