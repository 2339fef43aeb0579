"""``python -m docs.made`` writes the made parts of the manual into its pages."""

from __future__ import annotations

from docs.made.parts import pages_with_parts, written


def main() -> None:
    """Write every page anew whose parts are no longer what the code says; say which."""
    for path in pages_with_parts():
        before = path.read_text(encoding="utf-8")
        after = written(before)
        if after != before:
            path.write_text(after, encoding="utf-8")
            print(path.name)


if __name__ == "__main__":
    main()
