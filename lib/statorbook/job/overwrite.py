"""Write a whole job anew, whatever its files hold now; the way back for the example job."""

from statorbook.bench import format_log
from statorbook.job.document import SCHEMA_VERSION, format_document
from statorbook.job.drafts import discard_drafts
from statorbook.job.files import DOCUMENT, file_label, locked, replace_file
from statorbook.job.job import Job
from statorbook.job.places import base_folder, ensure_folder, job_folder


def write_anew(name, *, parts, logs, data_folder=None):
    """Write every file of a job from scratch, so that even damaged files are no obstacle.

    Parameters
    ----------
    name : str
        The job's name.
    parts : dict of str to Part
        All parts that it shall hold; a part left out is empty afterwards.
    logs : dict of str to list of dict
        Raw rows of the logs that it shall hold.
    data_folder : Path or None
        Where jobs are kept; found by itself when None.

    Returns
    -------
    Job
        The job, open; of each file that changed, the version before is kept beside it.

    Raises
    ------
    BadInput
        When the name is not allowed or the disk refuses.
    """
    folder = job_folder(base_folder(data_folder), name)
    ensure_folder(folder)
    with locked(folder):
        for log, rows in logs.items():
            path = folder / f"{log}.csv"
            replace_file(path, format_log(log, rows, file_label(path)))
        keys = {"schema_version": SCHEMA_VERSION} | {key: part.as_saved() for key, part in parts.items()}
        replace_file(folder / DOCUMENT, format_document(keys))
        discard_drafts(folder)
    return Job(folder)
