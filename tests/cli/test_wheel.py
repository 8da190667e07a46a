"""The wheel carries all it needs: installed outside the checkout, with no network, it does the main job."""

from __future__ import annotations

import os
import subprocess
import sys
import venv
from pathlib import Path

import pytest

from generator.protocol.schema import schema_files

ROOT = Path(__file__).parent.parent.parent

# Put in front of the program: whoever opens a socket is stopped.
NO_SOCKETS = """
import socket, sys
class Denied(socket.socket):
    def __init__(self, *a, **k):
        raise OSError("no network at run time")
socket.socket = Denied
socket.create_connection = socket.getaddrinfo = lambda *a, **k: (_ for _ in ()).throw(OSError("no network at run time"))
from generator.cli.main import guarded
sys.exit(guarded(sys.argv[1:]))
"""


@pytest.mark.wheel
def test_demo_runs_from_an_installed_wheel_outside_the_checkout_without_sockets(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(tmp_path / "dist"), str(ROOT)],
        check=True,
        capture_output=True,
    )
    wheel = next((tmp_path / "dist").glob("*.whl"))
    venv.create(tmp_path / "env", with_pip=False)
    bin_folder = tmp_path / "env" / ("Scripts" if os.name == "nt" else "bin")
    python = bin_folder / ("python.exe" if os.name == "nt" else "python")
    site = subprocess.run(
        [str(python), "-c", "import sysconfig; print(sysconfig.get_paths()['purelib'])"],
        check=True,
        capture_output=True,
        text=True,
    ).stdout.strip()
    # Its dependencies are those of the test's own environment; the package itself comes from the wheel alone.
    import sysconfig

    (Path(site) / "dependencies.pth").write_text(sysconfig.get_paths()["purelib"] + "\n", encoding="utf-8")
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-index", "--target", site, str(wheel)],
        check=True,
        capture_output=True,
    )
    shared = Path(site) / "generator" / "_share" / "protocols"
    assert sorted(path.name for path in (shared / "schema").iterdir()) == sorted(schema_files())
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    environment = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
    where = subprocess.run(
        [str(python), "-c", "import generator; print(generator.__file__)"],
        cwd=elsewhere,
        env=environment,
        check=True,
        capture_output=True,
        text=True,
    )
    assert where.stdout.startswith(str(tmp_path)), "the package must come from the wheel, not from the checkout"
    ran = subprocess.run(
        [str(python), "-c", NO_SOCKETS, "demo"],
        cwd=elsewhere,
        env=environment,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    papers = {path.suffix for path in (elsewhere / "output").rglob("*") if path.is_file()}
    assert papers == {".pdf", ".json", ".ics", ".html"}
    assert (elsewhere / "output" / "binder.pdf").read_bytes().startswith(b"%PDF-")
