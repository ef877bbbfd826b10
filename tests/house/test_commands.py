"""The commands of the README, the requirements behind them, and what an install leaves in the environment."""

import json
import re
import subprocess
import sys
import tomllib
from importlib.metadata import version
from pathlib import Path

import pytest

from house.sources import ROOT

REQUIREMENTS = {
    "requirements.txt": {
        "jupyterlab",
        "ipywidgets",
        "anywidget",
        "numpy",
        "scipy",
        "pandas",
        "sympy",
        "matplotlib",
        "pint",
        "pydantic",
        "fluids",
        "fpdf2",
        "lazy_loader",
        "filelock",
    },
    "tests/requirements.txt": {
        "pytest",
        "pytest-xdist",
        "nbval",
        "nbformat",
        "hypothesis",
        "playwright",
        "axe-playwright-python",
        "python-dateutil",
        "ruff",
    },
}
_MAKE_AND_INSTALL = "python3 -m venv .venv && .venv/bin/python -m pip install -r"
OPEN = f"{_MAKE_AND_INSTALL} requirements.txt && .venv/bin/python -m jupyterlab"
TEST = f'{_MAKE_AND_INSTALL} tests/requirements.txt && .venv/bin/python -m pytest -n auto -m "not slow"'
SETTINGS = ROOT / "lib" / "lab_settings"


def lines_of(name):
    lines = (ROOT / name).read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line.strip() and not line.startswith("#")]


def test_the_readme_gives_both_commands():
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"<!-- command: open, POSIX -->\n```sh\n{OPEN}\n```" in page
    assert f"<!-- command: test, POSIX -->\n```sh\n{TEST}\n```" in page
    for words in (OPEN, TEST):
        install, last = words.split(" && ")[1:]
        windows = [part.replace(".venv/bin/python", ".venv\\Scripts\\python.exe") for part in (install, last)]
        assert f"{{ {windows[0]}; if ($?) {{ {windows[1]} }} }}" in page
        if words == OPEN:  # on another day its last part is enough
            assert f"```sh\n{last}\n```" in page and f"```powershell\n{windows[1]}\n```" in page


def test_the_ci_runs_the_command_of_the_readme():
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    finder = re.search(r"command=\$\((awk '.*' README\.md)\)", script)[1]
    found = subprocess.run(["bash", "-c", finder], cwd=ROOT, capture_output=True, text=True, check=True)
    assert found.stdout.strip() == TEST


def test_the_ci_runs_the_slow_tests_too():
    # Commands that the shell runs whatever comes before them, not words in a comment.
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines[-1] == ".venv/bin/python -m pytest -n auto -m slow"


@pytest.mark.parametrize("name", REQUIREMENTS)
def test_requirements_are_pinned_to_what_is_tested(name):
    lines = lines_of(name)
    assert lines[0] == ("-e ./lib" if name == "requirements.txt" else "-r ../requirements.txt")
    pins = dict(line.split("==") for line in lines[1:])
    assert REQUIREMENTS[name] <= set(pins)
    assert {package: version(package) for package in pins} == pins


def test_the_library_names_what_it_imports():
    project = tomllib.loads((ROOT / "lib" / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    pinned = {line.split("==")[0] for line in lines_of("requirements.txt")[1:]}
    assert set(project["dependencies"]) | {"jupyterlab"} == pinned
    assert project["requires-python"] == ">=3.11"


@pytest.mark.parametrize(
    "place, name",
    [
        ("jupyter_lab_config.json", "jupyter_lab_config.json"),
        ("labconfig/default_setting_overrides.json", "default_setting_overrides.json"),
        ("labconfig/page_config.json", "page_config.json"),
        ("jupyter_server_config.d/statorbook.json", "server_extension.json"),
    ],
)
def test_an_install_carries_the_calm_jupyterlab(place, name):
    installed, source = Path(sys.prefix, "etc", "jupyter", place), SETTINGS / name
    assert installed.is_file(), f"{name} was not installed: run the install of the test command again"
    # JupyterLab adds keys of its own to the page's settings when it first starts.
    kept = json.loads(installed.read_text(encoding="utf-8"))
    assert kept | json.loads(source.read_text(encoding="utf-8")) == kept


@pytest.mark.parametrize("folder, extension", [("run_pages", "statorbook"), ("way", "statorbook-way")])
def test_an_install_carries_the_extensions_as_they_stand_here(folder, extension):
    installed, here = Path(sys.prefix, "share", "jupyter", "labextensions", extension), SETTINGS / folder
    names = [path.relative_to(here) for path in here.rglob("*.*")]
    assert Path("package.json") in names and len(names) > 1
    missing = [name for name in names if not (installed / name).is_file()]
    other = [
        name for name in names if name not in missing and (installed / name).read_bytes() != (here / name).read_bytes()
    ]
    assert missing + other == [], "run the install of the test command again"


def test_no_state_of_a_panel_is_saved_and_save_has_no_button():
    settings = json.loads((SETTINGS / "default_setting_overrides.json").read_text(encoding="utf-8"))
    assert settings["@jupyter-widgets/jupyterlab-manager:plugin"] == {"saveState": False}
    assert {"name": "save", "disabled": True} in settings["@jupyterlab/notebook-extension:panel"]["toolbar"]


def test_the_settings_leave_security_alone():
    config = json.loads((SETTINGS / "jupyter_lab_config.json").read_text(encoding="utf-8"))
    assert set(config) == {"LabApp", "ContentsManager"}
    assert config["ContentsManager"] == {"pre_save_hook": "statorbook.widgets.saved_pages.before_save"}
    extension = json.loads((SETTINGS / "server_extension.json").read_text(encoding="utf-8"))
    assert extension == {
        "ServerApp": {"jpserver_extensions": {"jupyter_lsp": False, "statorbook.panels.start.pages": True}}
    }
    assert set(config["LabApp"]) == {"default_url", "check_for_updates_class", "news_url"}
