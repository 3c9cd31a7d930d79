"""What can go wrong with a wardrobe, as one small tree.

    WardrobeError                 the root: anything a wardrobe can refuse
    ├── BadInput                  asked for something that cannot be done        (exit 2)
    │   ├── of the folder         NotAWardrobe, LeadsElsewhere, FolderNotEmpty, UnknownRevision,
    │   │                         NoSuchFile, UnsafePath, CannotKeep, FileTooLarge, HandEdited,
    │   │                         MovedOn, Busy, Locked, Detached, NothingToUndo, GitMissing
    │   └── of what is in it      NoSuchNode, NoSuchGarment, NameTaken, BadName, NoSuchStep,
    │                             NoSuchConflict, NoSuchRemedy, NothingToDecide, NothingToChange,
    │                             CannotStep, NotDrafted, PieceTwice, BadFitting,
    │                             TooManyVersions
    ├── CannotWrite               disk full, read only, no permission            (exit 2)
    │   ├── WorkingFilesBehind    the step is recorded, a file on disk could not follow
    │   │   └── EditsBehind       the same of edits by hand, before a step that is not recorded
    │   └── StepUnclear           it cannot be seen whether the step was recorded
    ├── GitStopped                git was killed before it could answer          (exit 2)
    │   └── GitSlow               it took too long, and was stopped
    └── Damaged                   what is stored cannot be read                  (exit 3)
        ├── CannotRead            no permission, or the disk fails               (exit 2)
        ├── BeyondLimits          it is more than is ever read
        ├── BadRecord             a file does not say what it should
        │   ├── MayNotRead        the maker may not read it; it may be whole     (exit 2)
        │   ├── MissingParent     it names a parent that is not there
        │   └── Cycle             nodes derive from each other in a ring
        ├── StandsOnUnreadable    a node derives from one that cannot be read
        └── VerdictUnknown        a step would reach a node that cannot be read

Parts of lineage with errors of their own (garments, chronicle, promotion, ...) hang them on the
same boughs. Every error carries its facts as attributes; its `str()` is one sentence that says
what is wrong, where, and what to do.
"""

from trueup.lineage.errors.folder import (
    Busy,
    CannotKeep,
    Detached,
    EditsBehind,
    FileTooLarge,
    FolderNotEmpty,
    GitMissing,
    HandEdited,
    LeadsElsewhere,
    Locked,
    MovedOn,
    NoSuchFile,
    NotAWardrobe,
    NothingToUndo,
    StepUnclear,
    UnknownRevision,
    UnsafePath,
    WorkingFilesBehind,
)
from trueup.lineage.errors.nodes import (
    BadFitting,
    BadName,
    BadRecord,
    CannotStep,
    Cycle,
    MayNotRead,
    MissingParent,
    NameTaken,
    NoSuchConflict,
    NoSuchGarment,
    NoSuchNode,
    NoSuchRemedy,
    NoSuchStep,
    NotDrafted,
    NothingToChange,
    NothingToDecide,
    PieceTwice,
    StandsOnUnreadable,
    TooManyVersions,
    VerdictUnknown,
)
from trueup.lineage.errors.root import (
    BadInput,
    BeyondLimits,
    CannotRead,
    CannotWrite,
    Damaged,
    GitSlow,
    GitStopped,
    WardrobeError,
    listed,
    printable,
    quoted,
)

__all__ = [
    "BadFitting",
    "BadInput",
    "BadName",
    "BadRecord",
    "BeyondLimits",
    "Busy",
    "CannotKeep",
    "CannotRead",
    "CannotStep",
    "CannotWrite",
    "Cycle",
    "Damaged",
    "Detached",
    "EditsBehind",
    "FileTooLarge",
    "FolderNotEmpty",
    "GitMissing",
    "GitSlow",
    "GitStopped",
    "HandEdited",
    "LeadsElsewhere",
    "Locked",
    "MayNotRead",
    "MissingParent",
    "MovedOn",
    "NameTaken",
    "NoSuchConflict",
    "NoSuchFile",
    "NoSuchGarment",
    "NoSuchNode",
    "NoSuchRemedy",
    "NoSuchStep",
    "NotAWardrobe",
    "NotDrafted",
    "NothingToChange",
    "NothingToDecide",
    "NothingToUndo",
    "PieceTwice",
    "StandsOnUnreadable",
    "StepUnclear",
    "TooManyVersions",
    "UnknownRevision",
    "UnsafePath",
    "VerdictUnknown",
    "WardrobeError",
    "WorkingFilesBehind",
    "listed",
    "printable",
    "quoted",
]
