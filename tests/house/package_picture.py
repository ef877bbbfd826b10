"""The picture of the packages in DEVELOPERS.md and the table below it, drawn from what the library imports."""

import ast

from house.sources import LIBRARY, PACKAGES, ROOT, imports_of, modules, tree_of

PAGE = ROOT / "DEVELOPERS.md"
START, END = "<!-- packages: drawn by .ci/draw-package-picture -->\n", "<!-- packages: end -->\n"


def packages_imported():
    """By package, from the top down, all packages that its modules import, at once or late."""
    found = {package: set() for package in reversed(PACKAGES)}
    for name, path in modules():
        if package := name.split(".")[0]:
            targets = (target.split(".") for target, _, _ in imports_of(tree_of(path)))
            found[package] |= {parts[1] for parts in targets if parts[0] == "statorbook" and len(parts) > 1} - {package}
    return found


def reduced(imported):
    """The arrows without those that a longer way says too."""

    def reached(package):
        return imported[package].union(*map(reached, imported[package]))

    return {package: others - set().union(*map(reached, others)) for package, others in imported.items()}


def in_mermaid(arrows):
    """Arrows as a flow chart that a code host draws."""
    order = list(arrows)
    lines = [
        f"    {package} --> {' & '.join(sorted(others, key=order.index))}"
        for package, others in arrows.items()
        if others
    ]
    return "\n".join(["```mermaid", "flowchart TD", *lines, "```"])


def what_it_knows(package):
    """The first line of a package, or of a module that stands alone."""
    folder = LIBRARY / package
    path = folder / "__init__.py" if folder.is_dir() else folder.with_suffix(".py")
    return ast.get_docstring(tree_of(path)).splitlines()[0]


def drawn():
    """Picture and table as they belong on the page."""
    rows = [f"| `{package}` | {what_it_knows(package)} |" for package in PACKAGES]
    table = ["| package | what it knows |", "|---|---|", *rows, ""]
    return "\n".join([in_mermaid(reduced(packages_imported())), "", *table])


def with_picture(page, picture):
    """The page with what stands between its two marks drawn anew."""
    before, _, rest = page.partition(START)
    return f"{before}{START}{picture}{END}{rest.partition(END)[2]}"
