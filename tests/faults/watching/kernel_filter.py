"""Have the kernel stop a process, and all it starts, at every writing call, and ask what to do.

A process puts a filter over itself (seccomp, with a listener) before it begins its work. From
then on each writing call of it and of every process below it waits until whoever holds the
listener has answered. Nothing is preloaded or patched, so it makes no difference by which
library or language a call is made.
"""

import ctypes
import os
import platform
import struct
import sys
from collections.abc import Iterable

from tests.faults.watching.system_calls import AUDIT_NAMES, SECCOMP_NUMBERS, of_this_machine

_LOAD, _EQUAL, _ANY_BIT, _RETURN = 0x20, 0x15, 0x45, 0x06
_ALLOW, _ASK = 0x7FFF0000, 0x7FC00000
_NUMBER_AT, _MACHINE_AT, _ARGUMENTS_AT = 0, 4, 16
_WRITING_FLAGS = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC

_SET_MODE_FILTER, _NEW_LISTENER, _WAIT_KILLABLE = 1, 1 << 3, 1 << 5
_NO_NEW_PRIVILEGES = 38

Instruction = tuple[int, int, int, int]


class CannotFilter(Exception):
    """This system cannot stop a process at its writing calls; the text says why."""


class _Program(ctypes.Structure):
    _fields_ = (("length", ctypes.c_ushort), ("code", ctypes.c_void_p))


def _program() -> list[Instruction]:
    code: list[Instruction] = [
        (_LOAD, 0, 0, _MACHINE_AT),
        (_EQUAL, 1, 0, AUDIT_NAMES[platform.machine()]),
        (_RETURN, 0, 0, _ALLOW),
        (_LOAD, 0, 0, _NUMBER_AT),
    ]
    for number, call in of_this_machine().items():
        if call.flags is None:
            code += [(_EQUAL, 0, 1, number), (_RETURN, 0, 0, _ASK)]
        else:
            # An opening only to read is let through here, and costs nothing.
            code += [
                (_EQUAL, 0, 4, number),
                (_LOAD, 0, 0, _ARGUMENTS_AT + 8 * call.flags),
                (_ANY_BIT, 0, 1, _WRITING_FLAGS),
                (_RETURN, 0, 0, _ASK),
                (_RETURN, 0, 0, _ALLOW),
            ]
    return [*code, (_RETURN, 0, 0, _ALLOW)]


def _packed(code: Iterable[Instruction]) -> bytes:
    return b"".join(struct.pack("HBBI", *each) for each in code)


def put_over_this_process() -> int:
    """Put the filter over this process for good, and return the listener's descriptor.

    Raises `CannotFilter`.
    """
    if sys.platform != "linux" or not of_this_machine():
        raise CannotFilter("it needs Linux on x86_64 or aarch64")
    libc = ctypes.CDLL(None, use_errno=True)
    code = _packed(_program())
    buffer = ctypes.create_string_buffer(code, len(code))
    program = _Program(len(code) // 8, ctypes.addressof(buffer))
    libc.prctl(_NO_NEW_PRIVILEGES, 1, 0, 0, 0)
    for flags in (_NEW_LISTENER | _WAIT_KILLABLE, _NEW_LISTENER):
        number = SECCOMP_NUMBERS[platform.machine()]
        listener = libc.syscall(number, _SET_MODE_FILTER, flags, ctypes.byref(program))
        if listener >= 0:
            return int(listener)
    raise CannotFilter(f"the kernel refuses the filter: {os.strerror(ctypes.get_errno())}")
