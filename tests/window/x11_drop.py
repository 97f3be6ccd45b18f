"""Drops files on a window of an X11 display, as a file manager does.

The source's side of the XDND protocol, version 5 (freedesktop.org, "Drag-and-Drop Protocol for
the X Window System"), through libX11, which every program with a window on X11 loads anyway.
"""
import ctypes
import select
import time
from ctypes import (POINTER, Structure, Union, byref, c_char_p, c_int, c_long, c_ubyte, c_ulong,
                    c_void_p)
from pathlib import Path

CLIENT_MESSAGE, SELECTION_REQUEST, SELECTION_NOTIFY = 33, 30, 31
CURRENT_TIME, REPLACE, ATOM = 0, 0, 4


class ClientMessage(Structure):
    _fields_ = [("type", c_int), ("serial", c_ulong), ("send_event", c_int), ("display", c_void_p),
                ("window", c_ulong), ("message_type", c_ulong), ("format", c_int),
                ("data", c_long * 5)]


class SelectionRequest(Structure):
    _fields_ = [("type", c_int), ("serial", c_ulong), ("send_event", c_int), ("display", c_void_p),
                ("owner", c_ulong), ("requestor", c_ulong), ("selection", c_ulong),
                ("target", c_ulong), ("property", c_ulong), ("time", c_ulong)]


class Selection(Structure):
    _fields_ = [("type", c_int), ("serial", c_ulong), ("send_event", c_int), ("display", c_void_p),
                ("requestor", c_ulong), ("selection", c_ulong), ("target", c_ulong),
                ("property", c_ulong), ("time", c_ulong)]


class Event(Union):
    _fields_ = [("type", c_int), ("client", ClientMessage), ("request", SelectionRequest),
                ("selection", Selection), ("pad", c_long * 24)]


def library():
    x11 = ctypes.CDLL("libX11.so.6")
    for name, result, arguments in (
            ("XOpenDisplay", c_void_p, [c_char_p]),
            ("XDefaultRootWindow", c_ulong, [c_void_p]),
            ("XCreateSimpleWindow", c_ulong,
             [c_void_p, c_ulong, c_int, c_int, c_int, c_int, c_int, c_ulong, c_ulong]),
            ("XInternAtom", c_ulong, [c_void_p, c_char_p, c_int]),
            ("XSetSelectionOwner", c_int, [c_void_p, c_ulong, c_ulong, c_ulong]),
            ("XSendEvent", c_int, [c_void_p, c_ulong, c_int, c_long, POINTER(Event)]),
            ("XChangeProperty", c_int,
             [c_void_p, c_ulong, c_ulong, c_ulong, c_int, c_int, POINTER(c_ubyte), c_int]),
            ("XPending", c_int, [c_void_p]), ("XNextEvent", c_int, [c_void_p, POINTER(Event)]),
            ("XConnectionNumber", c_int, [c_void_p]), ("XFlush", c_int, [c_void_p]),
            ("XCloseDisplay", c_int, [c_void_p])):
        function = getattr(x11, name)
        function.restype, function.argtypes = result, arguments
    return x11


class Source:
    """The window that files are dragged from."""

    def __init__(self, display, target):
        self.x11, self.target = library(), target
        self.display = self.x11.XOpenDisplay(display.encode())
        assert self.display, "no display " + display
        root = self.x11.XDefaultRootWindow(self.display)
        self.window = self.x11.XCreateSimpleWindow(self.display, root, 0, 0, 1, 1, 0, 0, 0)
        self.x11.XSetSelectionOwner(self.display, self.atom("XdndSelection"), self.window,
                                    CURRENT_TIME)

    def atom(self, name):
        return self.x11.XInternAtom(self.display, name.encode(), 0)

    def send(self, kind, *data):
        event = Event()
        event.client.type, event.client.window = CLIENT_MESSAGE, self.target
        event.client.format = 32  # bits of each item of data
        event.client.message_type = self.atom(kind)
        event.client.data = (c_long * 5)(self.window, *data)
        self.x11.XSendEvent(self.display, self.target, 0, 0, byref(event))
        self.x11.XFlush(self.display)

    def give(self, request, uris):
        content = (c_ubyte * len(uris)).from_buffer_copy(uris)
        self.x11.XChangeProperty(self.display, request.requestor, request.property, request.target,
                                 8, REPLACE, content, len(uris))
        answer = Event()
        answer.selection.type = SELECTION_NOTIFY
        for field in ("requestor", "selection", "target", "property", "time"):
            setattr(answer.selection, field, getattr(request, field))
        self.x11.XSendEvent(self.display, request.requestor, 0, 0, byref(answer))
        self.x11.XFlush(self.display)

    def wait(self, kind, uris=b"", seconds=60):
        """The data of the next message of a kind; hands the files over when they are asked for."""
        end, event = time.monotonic() + seconds, Event()
        while time.monotonic() < end:
            if not self.x11.XPending(self.display):
                select.select([self.x11.XConnectionNumber(self.display)], [], [], 0.2)
                continue
            self.x11.XNextEvent(self.display, byref(event))
            if event.type == SELECTION_REQUEST:
                self.give(event.request, uris)
            if event.type == CLIENT_MESSAGE and event.client.message_type == self.atom(kind):
                return list(event.client.data)
        raise AssertionError("the window did not answer with " + kind)


def drop(display, target, files, x, y):
    """Drops files on a window at a place of the screen; returns when the window took them."""
    uris = "".join(Path(file).resolve().as_uri() + "\r\n" for file in files).encode()
    source = Source(display, target)
    source.send("XdndEnter", 5 << 24, source.atom("text/uri-list"), 0, 0)
    source.send("XdndPosition", 0, x << 16 | y, CURRENT_TIME, source.atom("XdndActionCopy"))
    assert source.wait("XdndStatus")[1] & 1, "the window takes no files"
    source.send("XdndDrop", 0, CURRENT_TIME, 0, 0)
    source.wait("XdndFinished", uris)
    source.x11.XCloseDisplay(source.display)
