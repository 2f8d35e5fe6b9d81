"""Who is refused by the server: every case over a real connection."""

import http.client
import json
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from websockets.exceptions import ConnectionClosed, InvalidStatus
from websockets.sync.client import connect

from openwork.live.guard import policy
from tests.live.serving import Served, served

LARGE = '{"draw": 1, "spec": {"title": "' + "x" * 140_000 + '"}}'
DEEP = '{"draw": 1, "spec": ' + '{"a":' * 9000 + "1" + "}" * 9000 + "}"


@pytest.fixture(scope="module")
def there(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("guard")) as found:
        yield found


def answer(
    there: Served, path: str, *, method: str = "GET", host: str | None = None, **headers: str
) -> http.client.HTTPResponse:
    """Return the answer to a request that says *host*, by default the right one."""
    connection = http.client.HTTPConnection("127.0.0.1", there.port, timeout=10)
    connection.putrequest(method, path, skip_host=True)
    for one in (there.host if host is None else host).split(","):
        if one:
            connection.putheader("Host", one)
    for key, value in headers.items():
        connection.putheader(key, value)
    connection.endheaders()
    found = connection.getresponse()
    found.read()
    connection.close()
    return found


def test_the_page_is_for_who_has_its_address(there: Served) -> None:
    found = answer(there, there.path)
    assert found.status == 200
    assert found.headers["content-security-policy"] == policy(there.port)
    assert "unsafe" not in found.headers["content-security-policy"]
    assert found.headers["x-content-type-options"] == "nosniff"
    assert found.headers["referrer-policy"] == "no-referrer"
    assert found.headers["cache-control"] == "no-store"
    assert found.headers["cross-origin-opener-policy"] == "same-origin"
    assert found.headers["cross-origin-resource-policy"] == "same-origin"
    assert "server" not in found.headers
    assert answer(there, there.path, Origin=f"http://{there.host}").status == 200


@pytest.mark.parametrize(
    "host",
    ["localhost:{port}", "evil.example", "127.0.0.1", "127.0.0.1:1", "evil.example:{port}", "",
     "127.0.0.1:{port},127.0.0.1:{port}", "[::1]:{port}", "127.0.0.1.evil.example:{port}"],
)  # fmt: skip
def test_another_host_is_refused(there: Served, host: str) -> None:
    assert answer(there, there.path, host=host.format(port=there.port)).status in {400, 403}


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://localhost:{port}",
                                    "https://127.0.0.1:{port}", "http://127.0.0.1:1"])  # fmt: skip
def test_another_origin_is_refused(there: Served, origin: str) -> None:
    assert answer(there, there.path, Origin=origin.format(port=there.port)).status == 403


@pytest.mark.parametrize("path", ["/", "/start.json", "/wrong/", "/wrong/start.json", "//",
                                  "/%C3%A9%C3%A9/", "/talk"])  # fmt: skip
def test_who_has_no_token_is_refused(there: Served, path: str) -> None:
    assert answer(there, path).status == 403


@pytest.mark.parametrize("change", [lambda t: t[:-1], lambda t: t + "x", lambda t: t.swapcase()])
def test_a_token_that_is_nearly_right_is_refused(there: Served, change: object) -> None:
    assert callable(change)
    assert answer(there, f"/{change(there.token)}/").status == 403


def test_an_address_in_absolute_form_is_judged_by_its_host(there: Served) -> None:
    path = f"http://evil.example{there.path}"
    assert answer(there, path, host="evil.example").status == 403


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS"])
def test_only_get_is_answered(there: Served, method: str) -> None:
    assert answer(there, there.path, method=method).status == 403
    found = answer(there, there.path, method=method, Origin=f"http://{there.host}")
    assert found.status == 405


@pytest.mark.parametrize("name", ["../spec.toml", "..%2Fserver.py", "%2e%2e/server.py",
                                  "x.js", "__init__.py", "harbour.toml", "nodes.js/"])  # fmt: skip
def test_nothing_but_the_page_is_served(there: Served, name: str) -> None:
    assert answer(there, there.path + name).status in {403, 404, 307}


def test_the_page_fetches_only_what_is_there(there: Served) -> None:
    for name in ("start.js", "nodes.js", "colours.css", "frame.css"):
        assert answer(there, there.path + name).status == 200


@pytest.mark.parametrize(
    ("path", "origin"),
    [("{path}talk", None), ("{path}talk", "http://evil.example"), ("{path}talk", "null"),
     ("/wrong/talk", "http://{host}"), ("/talk", "http://{host}")],
)  # fmt: skip
def test_a_strange_socket_is_refused(there: Served, path: str, origin: str | None) -> None:
    address = f"ws://{there.host}{path.format(path=there.path)}"
    said = None if origin is None else origin.format(host=there.host)
    with pytest.raises(InvalidStatus) as refused, connect(address, origin=said):  # type: ignore[arg-type]
        pass
    assert refused.value.response.status_code == 403


@pytest.mark.parametrize(
    ("message", "code"),
    [(LARGE, 1009), ("{", 1003), ("[]", 1003), ("7", 1003), ('{"draw": NaN}', 1003),
     ('{"draw": 1, "spec": {"web": {"rib": 1e999}}}', 1003), (DEEP, 1003),
     ('{"draw": 1, "spec": []}', 1003), ('{"draw": 1}', 1003), ('{"run": 1}', 1003),
     ('{"draw": 1, "spec": {}, "aim": "70"}', 1003), ('{"draw": true, "spec": 1}', 1003)],
)  # fmt: skip
def test_what_is_no_message_ends_the_conversation(there: Served, message: str, code: int) -> None:
    with there.socket() as socket:
        socket.send(message)
        with pytest.raises(ConnectionClosed) as closed:
            socket.recv(timeout=10)
    assert closed.value.rcvd is not None
    assert closed.value.rcvd.code == code


@pytest.mark.parametrize(
    ("said", "words"),
    [({"export": 1, "spec": {}, "formats": ["exe"]}, "exe: is none of svg"),
     ({"export": 1, "spec": {}, "formats": []}, "choose at least one"),
     ({"keep": 1, "spec": {"ring": {"teeth": 1}}}, "ring.teeth = 1"),
     ({"parse": 1}, "does not know"),
     ({"parse": 1, "text": "../x"}, "not a value of TOML")],
)  # fmt: skip
def test_an_errand_that_is_wrong_is_told(
    there: Served, said: dict[str, object], words: str
) -> None:
    with there.socket() as socket:
        socket.send(json.dumps(said))
        found = json.loads(socket.recv(timeout=20))
    assert words in found["faults"][0]


def test_the_page_cannot_name_a_path(there: Served) -> None:
    """Whatever names come along, what is written is beside the spec."""
    before = {path.name for path in there.folder.rglob("*")}
    said = {"spec": there.told, "name": "../../x", "path": "/elsewhere/x", "stamp": "../x"}
    with there.socket() as socket:
        for kind in ("keep", "beside", "save"):
            socket.send(json.dumps({kind: 1, **said}))
            socket.recv(timeout=20)
    made = {path.name for path in there.folder.rglob("*")} - before
    assert made == {"harbour-kept", "ring1.toml", "harbour-1.toml"}
    assert not Path(there.folder.parent / "x.toml").exists()


def test_the_address_is_of_this_machine_alone(there: Served) -> None:
    parts = urlsplit(there.address)
    assert parts.hostname == "127.0.0.1"
    assert len(there.token) == 32


def test_a_drawing_is_taken_from_the_own_page_alone(there: Served) -> None:
    path, own = f"{there.path}drawing?name=a.svg", f"http://{there.host}"
    assert answer(there, path, method="POST", Origin=own).status == 200
    assert answer(there, path, method="GET", Origin=own).status == 404
    assert answer(there, path, method="POST").status == 403
    assert answer(there, path, method="POST", Origin="http://evil.example").status == 403
    assert answer(there, "/x/drawing", method="POST", Origin=own).status == 403
