"""What the house rules are read from: the files of the project and the syntax trees of the library."""

import ast
import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
LIBRARY = ROOT / "lib" / "statorbook"
_SHIPPED = (("README.md",), ("spring_pipe",), ("ridge_rotor",), ("shed_pedals",))
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))

# From the ground up. A module may import the modules of lower floors and those named before it on its own floor.
# "drives", "figures", "sheets" and "panels" are folders, within which modules may import each other.
FLOORS = {
    "words": ("errors", "cautions", "estimate", "constants", "unit_names", "unit_systems", "conversions", "cells"),
    "physics": ("heat", "coil", "grouping", "stator", "conductors", "bearings", "bearing_limits", "bank",
                "bridge_circuit", "bridge_solver", "bridge_chart", "rectifier", "waveforms", "third_harmonic",
                "drives"),
    "decisions": ("log_columns", "log_text", "log_paste", "meters", "bank_readings", "pole_count", "row_evidence",
                  "row_numbers", "row_wiring", "drag_rows", "sessions", "readings", "fit_line", "line_checks",
                  "fit_rows", "fit_shares", "emf_fit", "shorted_rows", "inductance_fit", "inductance_ways",
                  "ohms_fit", "fit", "volts_limit", "model_checks", "shorted_checks", "log_checks", "more_readings",
                  "drag_fit", "loads", "sweep", "operating_point", "start_up", "brake", "pedal_feel", "hazards",
                  "settled", "most_amps", "verdict", "comparison", "comparison_table", "one_curve", "wire_names",
                  "wiring", "job_fields", "job_files", "job_part_base", "job_results_parts", "job_reader_part",
                  "job_drive_kinds", "job_drive_part", "job_refined_part", "job_service_part", "job_henries_part",
                  "job_meters_part", "job_sessions_part", "job_parts", "job_document", "job_logs", "job_places",
                  "job_progress", "job", "job_bench", "reader_units", "job_changes", "job_history", "job_drafts",
                  "job_zip", "job_anew", "machine", "assumed_ranges", "uncertainty", "firmness",
                  "quick_look", "example_logs", "example", "path_layout",
                  "cut_and_join", "chosen", "plan_steps", "probes", "coil_circuit", "survey_rows", "check_rows",
                  "survey_shares", "coil_survey", "path_balance", "check_bands", "parallel_limit", "bench_checks",
                  "job_checks", "check_verdicts", "survey_verdict", "faults", "fault_table", "fault_evidence",
                  "fault_words", "next_probe", "fault_finder", "rewinding", "other_ways", "run_rows", "run_case",
                  "run_flows", "first_run", "run_refine", "run_promise", "run_settle", "run_tells", "run_causes",
                  "run_odd", "run_ranking", "run_words", "service_rows", "service", "bearing_words", "derivations"),
    "reader": ("saved_pages", "figures", "drawings", "sheets", "panels"),
}
ORDER = [name for names in FLOORS.values() for name in names]


def modules():
    """Every module of the library as (dotted name, path), such as ("drives.water_jet", …)."""
    found = []
    for path in sorted(LIBRARY.rglob("*.py")):
        parts = path.relative_to(LIBRARY).with_suffix("").parts
        found.append((".".join(part for part in parts if part != "__init__"), path))
    return found


@cache
def tree_of(path):
    """Syntax tree of one file."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def floor_of(name):
    """The floor of a module, or an empty text when the table above does not know it."""
    room = name.split(".")[0]
    return next((floor for floor, names in FLOORS.items() if room in names), "")


def project_files():
    """Every file that belongs to the project: tracked by git, or new and not ignored."""
    try:
        listed = subprocess.run(["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], cwd=ROOT,
                                check=True, capture_output=True).stdout.decode().split("\0")
    except (OSError, subprocess.CalledProcessError):  # a copy without git: all but what git would ignore
        paths = [path.relative_to(ROOT) for path in ROOT.rglob("*")]
        theirs = [path for path in paths if path.parts[0] == "data" and path.parts[1:2] not in ((), *_SHIPPED)]
        listed = [path.as_posix() for path in paths if path not in theirs and ".previous." not in path.name
                  and not any(part.startswith(".") or part == "__pycache__" for part in path.parts)]
    return sorted(name for name in listed if name and (ROOT / name).is_file())
