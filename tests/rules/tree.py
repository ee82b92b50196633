"""Rules about files as text: addresses in locks, paths of one machine, words, length."""

import ast
import io
import re
import subprocess
import tokenize
from pathlib import Path

PEERS = "tests/trials/peers/package-lock.json"
LOCKS = ("requirements.lock", "requirements-dev.lock", "package-lock.json", PEERS)
# npm's lock also names home pages for gifts to authors; those are no place to install from.
ADDRESS = re.compile(
    r"--(?:extra-)?index-url|--find-links|\"resolved\"|://\S*(?:registry|\.tgz|\.whl)|@ https?:",
    re.IGNORECASE,
)
# Written in pieces, so that this file does not break its own rule.
MACHINE_PATH = re.compile(r"(?<![\w.])/(?:work|root|home|Users|opt)/" + r"[\w.-]+")
MOST_LINES = 400
MOST_SYNC_LINES = 600
NO_TYPESCRIPT = re.compile(r"^\s*(?:/\*.*?\*/|//[^\n]*)?\s*$\n?", re.MULTILINE | re.DOTALL)
NO_CODE = frozenset(
    (tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT)
)
TEXT = frozenset(
    """.py .ts .tsx .js .json .md .css .html .toml .yml .yaml .typ .sql .lock .txt .in
    .webmanifest""".split()  # noqa: SIM905
) | {""}
WORDS = [
    "claude",
    "anthropic",
    "openai",
    "language model",
    "this session",
    "sub-agent",
    "subagent",
    "co-authored-by",
    r"\.\./shared",
    r"field\.md",
    r"look\.md",
    r"scenario\.md",
    r"trade-notes",
    r"stack\.md",
    r"style\.md",
    r"book\.md",
    r"design\.md",
    "demo-data.json",
    r"issue #\d",
]
FORBIDDEN = re.compile(f"(?i:{'|'.join(WORDS)})|" + r"\bTODO\b|\bFIXME\b")
SPEAKS_OF_THEM = ("tests/rules/tree.py", "tests/test_tree.py")
MAY_BE_LONG = frozenset({".json", ".lock", ".md", ""})


def tracked_files(root: Path) -> list[str]:
    """Return the text files that Git tracks or would track."""
    words = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(words, cwd=root, capture_output=True, text=True, check=True)
    names = sorted(set(filter(None, listed.stdout.split("\0"))))
    return [name for name in names if Path(name).suffix in TEXT and (root / name).is_file()]


def lines_with(pattern: re.Pattern[str], root: Path, names: list[str]) -> list[str]:
    """Return file, line number and words of every match."""
    return [
        f"{name}:{number}: {match[0]}"
        for name in names
        for number, line in enumerate((root / name).read_text("utf-8").splitlines(), start=1)
        for match in [pattern.search(line)]
        if match
    ]


def addresses_in_locks(root: Path) -> list[str]:
    """Return every address or index option in a lock file."""
    return lines_with(ADDRESS, root, [name for name in LOCKS if (root / name).exists()])


def machine_paths(root: Path) -> list[str]:
    """Return every path that exists on one machine only."""
    names = [name for name in tracked_files(root) if name not in (*LOCKS, *SPEAKS_OF_THEM)]
    return lines_with(MACHINE_PATH, root, names)


def forbidden_words(root: Path) -> list[str]:
    """Return every word by which the project would speak of anything but itself."""
    names = [name for name in tracked_files(root) if name not in SPEAKS_OF_THEM]
    return lines_with(FORBIDDEN, root, [name for name in names if name not in LOCKS])


def long_files(root: Path) -> list[str]:
    """Return source files above the limit whose first line does not say why."""
    found = []
    for name in tracked_files(root):
        lines = (root / name).read_text("utf-8").splitlines()
        is_source = Path(name).suffix not in MAY_BE_LONG
        if is_source and len(lines) > MOST_LINES and "long because" not in lines[0].lower():
            found.append(f"{name}: {len(lines)} lines; split it or begin with 'Long because …'")
    return found


def code_lines(path: Path) -> int:
    """Count the lines of a source file that hold code: no blank line, comment or docstring."""
    text = path.read_text("utf-8")
    if path.suffix == ".py":
        return len(_python_lines(text))
    return len(NO_TYPESCRIPT.sub("", text).splitlines())


def _python_lines(text: str) -> set[int]:
    found = set[int]()
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in NO_CODE and token.string:
            found.update(range(token.start[0], token.end[0] + 1))
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            found -= set(range(node.lineno, (node.end_lineno or 0) + 1))
    return found


def large_sync(root: Path) -> list[str]:
    """Return each language of sync that has more lines of code than the limit."""
    found = []
    for folder, ending in (("sync/python", ".py"), ("sync/typescript", ".ts")):
        files = [path for path in (root / folder).rglob(f"*{ending}") if path.is_file()]
        lines = sum(code_lines(path) for path in files)
        if lines > MOST_SYNC_LINES or not files:
            found.append(f"{folder}: {lines} lines of code; at most {MOST_SYNC_LINES}")
    return found
