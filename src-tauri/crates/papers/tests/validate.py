"""Judges a PDF file for a profile: `validate.py 3a|3b|ua1|pikepdf FILE`. Exit 0 for a pass, 3 for findings."""

import sys


def by_page(profile, path):
    import page

    report = page.validate_pdf(path, profile=page.ValidationProfile(profile))
    return report.is_compliant, [f"{f.rule_id}: {f.message}" for f in report.failures]


def by_pikepdf(path):
    from pikepdf import pdfa

    report = pdfa.validate_written(path, "3b")
    return report.passed, [str(finding) for finding in report.findings]


profile, path = sys.argv[1:]
passed, findings = by_pikepdf(path) if profile == "pikepdf" else by_page(profile, path)
print("\n".join(findings[:20]))
sys.exit(0 if passed else 3)
