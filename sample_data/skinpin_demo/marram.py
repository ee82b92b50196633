"""The Marram Type 7, airframe 2603, as typed tables: a fictional aircraft of no collection."""

from dataclasses import dataclass

TYPE = "Marram Type 7"
CONSTRUCTOR = "2603"
STRAKES = ["K", "B1", "B2", "B3", "C", "S1", "S2", "S3", "S4", "G", "D1", "D2", "CL"]
MAIN_FRAMES = {"F13", "F15", "F16", "F24", "F29"}
HALF_FRAMES = {"F12A"}
MAIN_RIBS = {"R1", "R3", "R4", "R12"}
TIP_WS = "324"
#: Aft faces of the two steps: keel and chine there, gunwale and deck run through.
STEPS = {"F15": ("4.5", "14"), "F24": ("15", "21.0")}

# frame, Sta, keel WL, chine WL, gunwale WL, deck WL, half-breadth at chine, at gunwale
_FRAMES = """
F1 8 31.0 35.5 44.5 48.0 2.5 3.5
F2 20 22.5 32.0 45.5 50.0 6.0 7.0
F3 32 15.5 28.0 46.5 52.5 10.0 11.0
F4 44 9.5 24.0 47.5 55.0 14.0 15.0
F5 57 5.0 21.0 48.5 57.5 16.5 17.5
F6 70 2.0 18.0 49.5 60.0 19.0 20.0
F7 83 0.5 15.0 51.0 63.0 21.5 22.5
F8 96 0.0 12.0 52.0 66.0 24.0 25.0
F9 108 0.0 11.5 52.0 66.0 24.5 25.5
F10 120 0.0 11.5 52.0 66.0 25.0 25.5
F11 132 0.0 11.0 52.0 66.0 25.5 26.0
F12 143 0.0 11.0 52.0 66.0 25.5 26.0
F12A 148.5 0.0 10.5 52.0 66.0 26.0 26.5
F13 154 0.0 10.5 52.0 66.0 26.0 26.5
F14 166 0.0 10.5 52.0 66.0 26.5 26.5
F15 178 0.0 10.0 52.0 66.0 27.0 27.0
F16 190 5.5 14.5 52.0 65.0 26.5 26.5
F17 203 6.0 15.5 52.0 64.0 26.0 25.5
F18 216 7.0 16.0 52.0 63.0 25.0 25.0
F19 230 8.0 17.0 52.5 62.0 24.5 24.0
F20 244 9.0 17.5 52.5 61.5 24.0 23.5
F21 258 10.0 18.5 53.0 61.0 23.0 22.5
F22 272 11.0 19.5 53.5 61.0 22.5 21.5
F23 287 12.0 20.0 53.5 60.5 21.5 21.0
F24 302 13.0 21.0 54.0 60.0 21.0 20.0
F25 318 19.0 24.0 54.5 60.0 19.0 17.5
F26 334 23.0 27.0 55.0 60.0 17.0 15.0
F27 350 27.0 30.0 55.5 60.0 15.0 12.5
F28 367 31.5 34.0 56.0 60.0 12.0 10.0
F29 384 35.5 38.0 56.5 60.0 9.0 7.5
F30 401 40.0 42.0 57.0 60.0 6.0 5.0
"""

# rib, WS, chord, leading edge Sta, front spar Sta, rear spar Sta, trailing edge Sta
_RIBS = """
R1 24 96.0 136.0 154.0 190.0 232.0
R2 40 96.0 136.0 154.0 190.0 232.0
R3 56 96.0 136.0 154.0 190.0 232.0
R4 74 96.0 136.0 154.0 190.0 232.0
R5 92 92.9 136.6 154.0 188.8 229.5
R6 110 89.8 137.2 154.0 187.7 227.0
R7 128 86.7 137.7 154.0 186.5 224.4
R8 146 83.6 138.3 154.0 185.4 221.9
R9 164 80.5 138.9 154.0 184.2 219.4
R10 182 77.4 139.5 154.0 183.0 216.9
R11 200 74.3 140.1 154.0 181.9 214.4
R12 218 71.2 140.6 154.0 180.7 211.9
R13 236 68.1 141.2 154.0 179.5 209.3
R14 254 65.0 141.8 154.0 178.4 206.8
R15 272 61.9 142.4 154.0 177.2 204.3
R16 290 58.8 143.0 154.0 176.1 201.8
R17 306 56.1 143.5 154.0 175.0 199.6
"""


@dataclass(frozen=True)
class Frame:
    """A hull frame: station, water lines and half-breadths, in inches as typed."""

    name: str
    station: str
    keel: str
    chine: str
    gunwale: str
    deck: str
    half_breadth_chine: str
    half_breadth_gunwale: str


@dataclass(frozen=True)
class Rib:
    """A wing rib: wing station, chord and four chordwise stations, in inches as typed."""

    name: str
    ws: str
    chord: str
    leading: str
    front_spar: str
    rear_spar: str
    trailing: str


FRAMES = [Frame(*line.split()) for line in _FRAMES.split("\n") if line]
RIBS = [Rib(*line.split()) for line in _RIBS.split("\n") if line]
