"""Takes the kept sound of a call away. The log stays as it is, and so does its chain: it names files, it does not hold them."""

from pathlib import Path

from assistant.record.log import LogInUse, holder, in_use, sync_folder

SOUNDS = "audio"


def forget_audio(call: Path) -> tuple[int, float]:
    """Delete every sound file that a call kept.

    Args:
        call: its folder.

    Returns:
        How many files, and how many megabytes.

    Raises:
        LogInUse: a program is writing the call.
        ValueError: the folder of its sound is a link to elsewhere: nothing is deleted there.
        OSError: a file cannot be deleted.
    """
    folder = call / SOUNDS
    if folder.is_symlink():
        raise ValueError(f"{folder} is a link to elsewhere; nothing was deleted")
    if not folder.is_dir():
        return 0, 0.0
    if in_use(call):
        raise LogInUse(f"the call {call.name} is open in {holder(call)}: end it first")
    count, size = 0, 0
    for file in sorted(folder.iterdir()):
        if file.is_symlink() or file.is_file():
            size += file.lstat().st_size
            file.unlink()
            count += 1
    sync_folder(folder)
    if not any(folder.iterdir()):
        folder.rmdir()
    return count, size / 1e6
