"""The cook's notebook: saved batches, stock, settings and timers in one file.

Importing this costs no SQLite: that is loaded when a Notebook first reads or writes.
"""

from __future__ import annotations

from assistant.notebook.comparing import compare_batches
from assistant.notebook.exchange import Imported, export_csv, export_jsonl, import_jsonl
from assistant.notebook.faults import (
    BadExport,
    Damage,
    ManyBatches,
    NoSuchBatch,
    NotebookDamaged,
    NotebookError,
    NotebookFull,
    NotebookInUse,
    NotebookMissingHome,
    NotebookNewer,
    NotebookReadOnly,
    NothingToUndo,
)
from assistant.notebook.places import data_folder, default_path
from assistant.notebook.records import (
    NAME_LIMIT,
    Batch,
    Change,
    CleanText,
    Comparison,
    FieldChange,
    Part,
    PartChange,
    Remark,
    Seasoned,
    Stocked,
    TimerNote,
    as_data,
    clean_name,
    clean_text,
    folded,
)
from assistant.notebook.store import Notebook

__all__ = [
    "NAME_LIMIT",
    "BadExport",
    "Batch",
    "Change",
    "CleanText",
    "Comparison",
    "Damage",
    "FieldChange",
    "Imported",
    "ManyBatches",
    "NoSuchBatch",
    "Notebook",
    "NotebookDamaged",
    "NotebookError",
    "NotebookFull",
    "NotebookInUse",
    "NotebookMissingHome",
    "NotebookNewer",
    "NotebookReadOnly",
    "NothingToUndo",
    "Part",
    "PartChange",
    "Remark",
    "Seasoned",
    "Stocked",
    "TimerNote",
    "as_data",
    "clean_name",
    "clean_text",
    "compare_batches",
    "data_folder",
    "default_path",
    "export_csv",
    "export_jsonl",
    "folded",
    "import_jsonl",
]
