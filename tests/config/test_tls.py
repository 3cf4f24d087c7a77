"""The front that speaks HTTPS, as `deploy/tls.conf` has it: which TLS, which suites, what goes on.

OWASP ASVS 5.0.0: 4.1.3, 4.2.1, 12.1.1, 12.1.2, 12.2.1, 15.3.4.
"""

import json
import shutil
import socket
import ssl
import subprocess
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from tests.servers import free_port

ROOT = Path(__file__).resolve().parents[2]
NGINX = shutil.which("nginx") or "/usr/sbin/nginx"
NAME = "studbay.example.org"


class Echo(BaseHTTPRequestHandler):
    """Says back what came."""

    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        said = json.dumps({"path": self.path, **dict(self.headers)}).encode()
        self.send_response(200)
        self.send_header("Content-Length", str(len(said)))
        self.end_headers()
        self.wfile.write(said)

    def log_message(self, *_: object) -> None:
        """Nothing."""


def certificate(folder: Path) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, NAME)])
    made = (
        x509.CertificateBuilder(issuer_name=name, subject_name=name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(datetime(1990, 1, 1, tzinfo=UTC))
        .not_valid_after(datetime(2090, 1, 1, tzinfo=UTC))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(NAME)]), critical=False)
        .sign(key, hashes.SHA256())
    )
    (folder / "fullchain.pem").write_bytes(made.public_bytes(serialization.Encoding.PEM))
    (folder / "privkey.pem").write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
    )


def set_up(folder: Path, ports: dict[str, int]) -> Path:
    """The file of the project, with ports and folders of this test."""
    text = (ROOT / "deploy" / "tls.conf").read_text()
    text = text.replace("/etc/studbay/tls/", f"{folder}/").replace("/tmp/tls", f"{folder}/tls")
    text = text.replace("127.0.0.1:8765", f"127.0.0.1:{ports['site']}")
    text = text.replace("listen 80", f"listen 127.0.0.1:{ports['plain']}")
    text = text.replace("listen 443", f"listen 127.0.0.1:{ports['tls']}")
    told = subprocess.run([NGINX, "-v"], capture_output=True, text=True, check=True).stderr
    if tuple(map(int, told.rpartition("/")[2].split(" ")[0].split(".")[:2])) < (1, 25):
        text = text.replace("        http2 on;\n", "")  # what it was called before 1.25.1
    found = folder / "tls.conf"
    found.write_text(text)
    return found


@pytest.fixture(scope="module")
def ports(tmp_path_factory) -> Iterator[dict[str, int]]:
    folder = tmp_path_factory.mktemp("tls")
    certificate(folder)
    site = ThreadingHTTPServer(("127.0.0.1", 0), Echo)
    threading.Thread(target=site.serve_forever, daemon=True).start()
    given = {"site": site.server_port, "plain": free_port(), "tls": free_port()}
    command = [NGINX, "-c", str(set_up(folder, given)), "-p", str(folder), "-e", "stderr"]
    front = subprocess.Popen([*command, "-g", "daemon off;"])
    _until_open(given["tls"])
    yield given
    front.terminate()
    front.wait(10)
    site.shutdown()


def _until_open(port: int) -> None:
    until = time.monotonic() + 20
    while True:
        try:
            socket.create_connection(("127.0.0.1", port), 1).close()
            return
        except OSError:
            assert time.monotonic() < until, "nginx does not start"
            time.sleep(0.05)


def asked(ports: dict[str, int], request: str, context: ssl.SSLContext | None = None) -> bytes:
    """What is answered to a request as it stands, by TLS."""
    context = context or _context()
    with (
        socket.create_connection(("127.0.0.1", ports["tls"]), 5) as line,
        context.wrap_socket(line, server_hostname=NAME) as tls,
    ):
        tls.sendall(request.encode())
        return b"".join(iter(lambda: tls.recv(65_536), b""))


def _context() -> ssl.SSLContext:
    context = ssl.create_default_context()
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    return context


def echoed(answer: bytes) -> dict[str, str]:
    told: dict[str, str] = json.loads(answer.partition(b"\r\n\r\n")[2])
    return told


ONE = f"GET /a HTTP/1.1\r\nHost: {NAME}\r\nConnection: close\r\n"


@pytest.mark.nginx
@pytest.mark.parametrize("version", [ssl.TLSVersion.TLSv1_2, ssl.TLSVersion.TLSv1_3])
def test_what_is_current_is_spoken(ports, version) -> None:
    context = _context()
    context.minimum_version = context.maximum_version = version
    assert b"200 OK" in asked(ports, f"{ONE}\r\n", context)


@pytest.mark.nginx
@pytest.mark.filterwarnings("ignore::DeprecationWarning")
@pytest.mark.parametrize("version", [ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1])
def test_what_is_old_is_not(ports, version) -> None:
    context = _context()
    context.set_ciphers("ALL:@SECLEVEL=0")
    context.minimum_version = context.maximum_version = version
    with pytest.raises(ssl.SSLError):
        asked(ports, f"{ONE}\r\n", context)


@pytest.mark.nginx
@pytest.mark.parametrize("suite", ["AES128-GCM-SHA256", "ECDHE-ECDSA-AES128-SHA", "AES256-SHA"])
def test_a_suite_without_forward_secrecy_or_with_cbc_is_refused(ports, suite: str) -> None:
    context = _context()
    context.maximum_version = ssl.TLSVersion.TLSv1_2
    context.set_ciphers(f"{suite}:@SECLEVEL=0")
    with pytest.raises(ssl.SSLError):
        asked(ports, f"{ONE}\r\n", context)


@pytest.mark.nginx
def test_what_a_caller_says_of_itself_is_written_over(ports) -> None:
    said = "X-Forwarded-For: 203.0.113.9\r\nX-Forwarded-Proto: http\r\nX-Forwarded-Host: a.b\r\n"
    came = echoed(asked(ports, f"{ONE}{said}Forwarded: for=1.2.3.4\r\nX-Real-IP: 1.1.1.1\r\n\r\n"))
    assert came["X-Forwarded-For"] == "127.0.0.1"
    assert came["X-Forwarded-Proto"] == "https"
    assert came["Host"] == NAME
    assert "Forwarded" not in came
    assert "X-Forwarded-Host" not in came


@pytest.mark.nginx
def test_a_body_of_two_lengths_is_refused(ports) -> None:
    both = "Content-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /smuggled HTTP/1.1"
    for rest in (both, "Content-Length: 4\r\nContent-Length: 9\r\n\r\nabcdefghi"):
        answer = asked(ports, f"POST /a HTTP/1.1\r\nHost: {NAME}\r\nConnection: close\r\n{rest}")
        assert b" 400 " in answer.split(b"\r\n", 1)[0]
        assert b"/smuggled" not in answer


@pytest.mark.nginx
def test_browsers_are_led_to_https_and_programs_are_not(ports) -> None:
    def plain(path: str, host: str = NAME) -> bytes:
        with socket.create_connection(("127.0.0.1", ports["plain"]), 5) as line:
            line.sendall(
                f"GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n".encode()
            )
            return b"".join(iter(lambda: line.recv(65_536), b""))

    assert f"Location: https://{NAME}/a?b=c".encode() in plain("/a?b=c")
    assert b" 403 " in plain("/api/jobs").split(b"\r\n", 1)[0]
    assert plain("/a", "elsewhere.example") == b""
    assert b"nginx/" not in plain("/a")
