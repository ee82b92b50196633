"""What the scenario says of each record and zone, written out from its tables by hand."""

# number | grade | deciding rules | state | stage | zone | independent inspection asked
_RECORDS = """
A/0001 | 2 | AL2 | Cleared | 3 | 111 | no
A/0002 | 3 | AL3 AL4 | In work | 3 | 111 | no
A/0003 | 3 | AL6 AL3 AL4 | Assessed | 3 | 112 | no
A/0004 | 4 | AL5 | In work | 3 | 112 | yes
A/0005 | 3 | AL4 | Assessed | 3 | 121 | no
A/0006 | 2 | AL2 | Cleared | 3 | 121 | no
A/0007 | 1 | AL1 | Cleared | 3 | 122 | no
A/0008 | 2 | RV2 | Offered | 3 | 122 | no
A/0009 | 4 | CK3 | Assessed | 3 | 221 | yes
A/0010 | 3 | MS1 | Raised | 3 | 121 | no
A/0011 | 4 | AL5 AL5 | In work | 3 | 122 | no
A/0012 | 2 | AL2 | Deferred | 4 | 120 | no
B/0001 | 3 | RV3 RV5 | In work | 1 | 520 | yes
B/0002 | 3 | AL6 AL3 | Assessed | 1 | 520 | yes
B/0003 | 3 | AL4 | In work | 1 | 520 | no
B/0004 | 3 | SG3 | Raised | 1 | 520 | no
B/0005 | 4 | ST4 | Offered | 1 | 520 | yes
B/0006 | 1 | DT1 | Cleared | 4 | 520 | no
B/0007 | 1 | AL1 | Cleared | 4 | 520 | no
B/0008 | 2 | ST2 | In work | 4 | 530 | no
B/0009 | 3 | RV3 | Raised | 4 | 520 | yes
A/0013 | 2 | DT2 | Deferred | 4 | 221 | no
A/0014 | 2 | AL2 | Cleared | 4 | 221 | no
A/0015 | 3 | HE2 | In work | 4 | 222 | no
A/0016 | 4 | AL5 | Raised | 4 | 231 | no
A/0017 | 1 | PT1 | Cleared | 4 | 232 | no
A/0018 | 2 | SY1 | Deferred | 2 | 221 | yes
A/0019 | 0 | NIL | Cleared | 3 | 222 | no
A/0020 | 2 | SG2 | Assessed | 4 | 231 | no
B/0010 | 3 | AL4 | Assessed | 4 | 310 | no
B/0011 | 2 | MG1 | In work | 4 | 331 | yes
B/0012 | 4 | FB1 | Assessed | 4 | 332 | no
B/0013 | 3 | ST3 | Assessed | 4 | 241 | yes
B/0014 | 3 | WP1 | Offered | 4 | 310 | yes
B/0015 | 3 | AL3 AL4 | Same as | 3 | 111 | no
B/0016 | 4 | AL5 AL5 | Raised in error | 3 | 121 | no
B/0017 | 2 | AL7 | Raised | 3 | 122 | no
B/0018 | 3 | RV3 | Raised | 3 | 121 | no
B/0019 | 3 | RV3 | Raised | 3 | 122 | no
A/0021 | 1 | AL1 | Raised | 4 | 610 | no
A/0022 | 4 | CK2 | Assessed | 4 | 610 | yes
A/0023 | 1 | SG1 | Cleared | 4 | 420 | no
A/0024 | 2 | SY1 | In work | 2 | 732 | yes
A/0025 | 3 | WP1 | Raised | 2 | 731 | yes
A/0026 | 4 | AL5 | Raised | 4 | 722 | no
"""

# zone | cells | looked at | open records | why not, where a reason is given for cells
_ZONES = """
111 | 28 | 24 | 1 | too narrow to enter or see
112 | 28 | 24 | 2 | too narrow to enter or see
121 | 32 | 32 | 3 |
122 | 32 | 30 | 4 | behind tank
131 | 36 | 0 | 0 | floor down
132 | 36 | 0 | 0 | floor down
141 | 24 | 0 | 0 |
142 | 24 | 0 | 0 |
211 | 56 | 0 | 0 |
212 | 56 | 0 | 0 |
221 | 64 | 64 | 3 |
222 | 64 | 60 | 1 | behind panel
231 | 72 | 72 | 2 |
232 | 72 | 72 | 0 |
241 | 48 | 8 | 1 |
242 | 48 | 8 | 0 |
310 | 12 | 12 | 2 |
331 | 10 | 10 | 1 |
332 | 10 | 10 | 1 |
410 | 6 | 0 | 0 |
420 | 6 | 6 | 0 |
510 | 12 | 12 | 0 |
520 | 32 | 32 | 6 |
530 | 24 | 4 | 1 |
610 | 12 | 12 | 2 |
620 | 32 | 0 | 0 |
630 | 24 | 0 | 0 |
721 | 6 | 0 | 0 |
722 | 6 | 6 | 1 |
731 | 2 | 2 | 1 |
732 | 2 | 2 | 1 |
120 | 0 | 0 | 1 |
"""


def _cells(table):
    return [[cell.strip() for cell in line.split("|")] for line in table.strip().split("\n")]


RECORDS = {
    number: (int(grade), rules.split(), state, f"Stage {stage}", zone, asked == "yes")
    for number, grade, rules, state, stage, zone, asked in _cells(_RECORDS)
}
ZONES = {
    zone: (int(cells), int(seen), int(still_open), why)
    for zone, cells, seen, still_open, why in _cells(_ZONES)
}
