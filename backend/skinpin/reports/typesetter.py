"""Child process that typesets: python -m skinpin.reports.typesetter ROOT; the PDF on stdout.

It reads the template, one JSON file and pictures, all in ROOT, and nothing else.
"""

import resource
import sys
from pathlib import Path

import typst

FONTS = Path(__file__).parent / "fonts"
MEMORY_BYTES = 3 * 1024**3
CPU_S = 120


def main(root: Path) -> bytes:
    """Typeset the report in a folder."""
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
    pdf = compiler.compile(root / "zone.typ", format="pdf", timestamp=0)
    assert isinstance(pdf, bytes)
    return pdf


if __name__ == "__main__":
    sys.stdout.buffer.write(main(Path(sys.argv[1]).resolve()))
