"""Walking the project: what is ours, leaving out what is built or fetched."""
import os
from pathlib import Path

NOT_OURS = {".git", "build", "node_modules", "shots", "__pycache__", ".cache", ".vscode", ".idea"}
TEXT = {".cpp", ".hpp", ".h", ".md", ".txt", ".py", ".sh", ".toml", ".json", ".jsonl", ".js", ".mjs", ".css", ".html",
        ".cmake", ".csv", ".R", ".svg", ".yml", ".yaml", ""}


def folders(root):
    """Every folder of ours, the root first."""
    for path, names, _ in os.walk(root):
        names[:] = sorted(n for n in names if n not in NOT_OURS)
        yield Path(path)


def files(root, *suffixes):
    """Every file of ours with one of the suffixes (all files if none is named), sorted."""
    for folder in folders(root):
        for path in sorted(folder.iterdir()):
            if path.name not in NOT_OURS and path.is_file() and not path.is_symlink() and (not suffixes or path.suffix in suffixes):
                yield path


def text_files(root):
    """(path, text) of every file that people write."""
    for path in files(root, *TEXT):
        try:
            yield path, path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # a picture without a suffix, or a test's deliberately broken input


def write(path, text):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
