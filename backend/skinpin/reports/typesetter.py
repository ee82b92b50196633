"""Child process that typesets: python -m skinpin.reports.typesetter ROOT; the PDF is put there.

It reads the template, one JSON file and pictures, all in ROOT, and nothing else.
"""

import resource
import sys
from pathlib import Path

FONTS = Path(__file__).parent / "fonts"
MEMORY_BYTES = 3 * 1024**3
CPU_S = 120
MADE = "report.pdf"


def main(root: Path) -> None:
    """Typeset the report in a folder."""
    import typst  # only the child holds the engine in memory

    resource.setrlimit(resource.RLIMIT_CPU, (CPU_S, CPU_S))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(FONTS)]
    )
    compiler = typst.Compiler(
        root=root,
        font_paths=fonts,
        package_path=root / "no-packages",
        package_cache_path=root / "no-packages",
    )
    beside = root / f"{MADE}.part"
    compiler.compile(root / "zone.typ", output=beside, format="pdf", timestamp=0)
    beside.rename(root / MADE)


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve())
