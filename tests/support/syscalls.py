"""A child followed from one system call to the next, to be stopped or failed at exactly one.

Linux lets a parent do so (``ptrace``). Nothing of the program is replaced: what is killed is the
real thing, between any two steps that the disk could see.
"""

import ctypes
import os
import platform
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from typing import NamedTuple, NoReturn

_TRACEME, _PEEKUSER, _POKEUSER, _SYSCALL, _SETOPTIONS = 0, 3, 6, 24, 0x4200
_MARK_SYSCALLS, _DIE_WITH_PARENT = 0x1, 0x100000
_STOPPED_AT_CALL = signal.SIGTRAP | 0x80
# Places in the x86-64 register file, in bytes.
_ORIG_RAX, _RAX = 15 * 8, 10 * 8

WRITING: dict[int, str] = {
    1: "write", 18: "pwrite64", 20: "writev", 74: "fsync", 75: "fdatasync", 77: "ftruncate",
    82: "rename", 87: "unlink", 83: "mkdir", 86: "link", 90: "chmod", 91: "fchmod", 257: "openat",
    263: "unlinkat", 264: "renameat", 285: "fallocate",
}  # fmt: skip
"""The calls by which a program changes a disk, by their numbers on x86-64."""


class Seen(NamedTuple):
    """How a followed child ended: its wait status, and the call at which it was stopped."""

    status: int
    call: str | None

    @property
    def met(self) -> bool:
        """Whether it came to the call that was meant; otherwise it had no such call left."""
        return self.call is not None


def unavailable() -> str:
    """Why children cannot be followed here; empty where they can."""
    if sys.platform != "linux" or platform.machine() != "x86_64":
        return "children are followed only on Linux on x86-64"
    try:
        seen = follow(lambda: None, at=1)
    except OSError as error:
        return f"children may not be followed here: {error.strerror}"
    return "" if seen.status in {0, signal.SIGKILL} else "children are not followed as they should"


def follow(
    work: Callable[[], object],
    at: int,
    *,
    after: bool = False,
    fail: int | None = None,
    calls: dict[int, str] = WRITING,
) -> Seen:
    """Fork a child that does this work; at its ``at``-th writing call kill it -9.

    Before the call has happened, or with ``after`` when it has. With ``fail`` the child lives on
    and that call is refused with this error number. The child starts to be followed when it
    begins its work. Call it from a process that has no other threads.
    """
    child = os.fork()
    if child == 0:
        _do(work)
    return _followed(child, at, after=after, fail=fail, calls=calls)


def _do(work: Callable[[], object]) -> NoReturn:
    code = 1
    try:
        follow_me()
        work()
        code = 0
    finally:
        # Nothing of the parent may be ended a second time here.
        os._exit(code)


def follow_me() -> None:
    """In the child: from here on the parent sees every call."""
    _ptrace(_TRACEME, 0, 0, 0)
    os.kill(os.getpid(), signal.SIGSTOP)


def _followed(child: int, at: int, *, after: bool, fail: int | None, calls: dict[int, str]) -> Seen:
    """Let the child go from call to call until it ends or has come to the one that is meant."""
    _, status = os.waitpid(child, 0)
    if os.WIFSTOPPED(status):
        _ptrace(_SETOPTIONS, child, 0, _MARK_SYSCALLS | _DIE_WITH_PARENT)
    count, inside, met, refusing = 0, False, None, False
    while os.WIFSTOPPED(status):
        if os.WSTOPSIG(status) == _STOPPED_AT_CALL:
            inside = not inside
            call = calls.get(_ptrace(_PEEKUSER, child, _ORIG_RAX, 0))
            count += inside and call is not None
            if refusing:
                _ptrace(_POKEUSER, child, _RAX, -(fail or 0))
                refusing = False
            elif met is None and call is not None and count == at:
                if fail is not None:
                    # A call of no number does nothing; its answer is put in on the way out.
                    _ptrace(_POKEUSER, child, _ORIG_RAX, -1)
                    met, refusing = call, True
                elif inside != after:
                    os.kill(child, signal.SIGKILL)
                    met = call
        _go_on(child, status)
        _, status = os.waitpid(child, 0)
    return Seen(status, met)


def _go_on(child: int, status: int) -> None:
    """To the next call, with the signal that stopped the child unless it was ours."""
    own = {_STOPPED_AT_CALL, signal.SIGSTOP, signal.SIGTRAP}
    passed_on = 0 if os.WSTOPSIG(status) in own else os.WSTOPSIG(status)
    with suppress(ProcessLookupError):  # it was just killed
        _ptrace(_SYSCALL, child, 0, passed_on)


def _ptrace(request: int, child: int, place: int, value: int) -> int:
    call = _call()
    ctypes.set_errno(0)
    found = call(request, child, place, value)
    if found == -1 and (number := ctypes.get_errno()):
        raise OSError(number, os.strerror(number))
    return int(found)


@cache
def _call() -> Callable[..., int]:
    call = ctypes.CDLL(None, use_errno=True).ptrace
    call.restype = ctypes.c_long
    call.argtypes = (ctypes.c_long, ctypes.c_long, ctypes.c_void_p, ctypes.c_void_p)
    return call
