"""Judges PDF files for a profile: `validate.py 3a|3b|ua1|pikepdf FILE…`. Exit 0 for a pass of all, 3 for findings."""

import sys


def by_page(profile, path):
    import page

    report = page.validate_pdf(path, profile=page.ValidationProfile(profile))
    return report.is_compliant, [f"{f.rule_id}: {f.message}" for f in report.failures]


def by_pikepdf(path):
    from pikepdf import pdfa

    report = pdfa.validate_written(path, "3b")
    return report.passed, [str(finding) for finding in report.findings]


profile, *paths = sys.argv[1:]
good = True
for path in paths:
    passed, findings = by_pikepdf(path) if profile == "pikepdf" else by_page(profile, path)
    good = good and passed
    for finding in findings[:20]:
        print(f"{path}: {finding}")
sys.exit(0 if good else 3)
