"""Screw threads: what a designation means, its limits of size, and what happens when two unlike threads meet.

- `thread`       the record of one thread, and the error for text that names none
- `series`       which sizes and pitches exist, read from the data files; canonical designations
- `designation`  reads the spellings that people write
- `nearest`      the designation most like one that does not exist
- `member`       the limits of size of an external or internal thread
- `limits`       limits of any thread, by standard: `unified`, `metric` and `pipe`
- `geometry`     clearance, overlap, free turns and lead-in of an external thread in an internal one
- `strength`     shear areas, length of engagement; the strength that a wrong thread leaves
- `verdict`      what those figures say, and the reason in words
- `fit`          all of it for two threads: verdict, figures, and where each formula is from (`figure_sources`)
- `known`        the trade's list of threads
- `look_alikes`  which of those can be taken for another
- `pair_table`   every thread of the trade's list into every other
- `every`        every thread of the tables
- `reading`      what calliper and pitch gauge say, read from text
- `identify`     which threads a reading can be of, ranked, with the errors assumed
- `tell_apart`   how to tell two threads apart with what a workshop has
- `profile`      the section of a thread as a line of points, and where two cut into each other

Lengths are millimetres, angles degrees. The tables are in `fitcheck/standards/data/threads_*.yaml`.
"""

from fitcheck.standards.threads.designation import parse
from fitcheck.standards.threads.fit import EngagementError, Fit, dangerous, fit, mates
from fitcheck.standards.threads.known import known_threads, known_uses
from fitcheck.standards.threads.limits import limits
from fitcheck.standards.threads.look_alikes import look_alikes
from fitcheck.standards.threads.member import Limits, Member, ThreadLimitsError
from fitcheck.standards.threads.thread import Thread, ThreadDesignationError

__all__ = [
    "EngagementError",
    "Fit",
    "Limits",
    "Member",
    "Thread",
    "ThreadDesignationError",
    "ThreadLimitsError",
    "dangerous",
    "fit",
    "known_threads",
    "known_uses",
    "limits",
    "look_alikes",
    "mates",
    "parse",
]
