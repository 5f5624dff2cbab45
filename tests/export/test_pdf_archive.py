"""Every PDF held to what ISO 19005-2 (PDF/A-2, level B) asks and a program can see, clause by clause, by pypdf and fontTools.

These are its checks on structure, colour, fonts, metadata and limits; where the package `page-validation` is installed, its validator of that
standard says the same. A second reader (ghostscript) goes through every page and stops at the first fault.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from typing import Any

import pypdf
import pytest
from fontTools.ttLib import TTFont
from pypdf.generic import IndirectObject

from wallwright.derive import derive
from wallwright.export.pdf import ends_told
from wallwright.export.picture import picture_png
from wallwright.export.picture_scene import When
from wallwright.export.role_sets import role_contents
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job

NAMES = ("drawings.pdf", "documents.pdf", "templates.pdf", "labels.pdf", "quote.pdf")
CLIENT = "set_client.pdf"
"""The one that holds pictures of dots beside what is drawn."""


@pytest.fixture(scope="module", params=(*NAMES, CLIENT))
def file(
    request: pytest.FixtureRequest, issued: tuple[Path, Any], tmp_path_factory: pytest.TempPathFactory
) -> Path:
    if request.param != CLIENT:
        return issued[0] / request.param
    wall = derive(read_job(demo_jobs()["bedroom"]))
    whens: tuple[When, ...] = ("day", "night")
    shots = [(f"By {when}", picture_png(wall, when, size=(96, 64)), "Computed.") for when in whens]
    made = {
        name: data
        for _, name, data in role_contents(
            wall, ("client",), None, [], lambda *_: iter(()), whole=False, shots=shots
        )
    }
    path = tmp_path_factory.mktemp("client") / CLIENT
    path.write_bytes(made[CLIENT])
    return path


@pytest.fixture(scope="module")
def data(file: Path) -> bytes:
    return file.read_bytes()


@pytest.fixture(scope="module")
def reader(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def things(reader: pypdf.PdfReader) -> Iterator[tuple[int, Any]]:
    """Every object of the file."""
    for number in range(1, int(reader.trailer["/Size"])):
        yield number, reader.get_object(IndirectObject(number, 0, reader))


@dataclass(frozen=True, slots=True)
class Said:
    """What the streams of a file do: how deep states are saved, the operators, the colour spaces named."""

    depths: tuple[int, ...]
    operators: frozenset[bytes]
    spaces: frozenset[str]


@pytest.fixture(scope="module")
def said(reader: pypdf.PdfReader) -> Said:
    """Every page and form, cut into words at once: pypdf's own reading of operations takes minutes for a set of drawings."""
    depths, operators, spaces = [0], set[bytes](), set[str]()
    forms = [t for _, t in things(reader) if isinstance(t, dict) and t.get("/Subtype") == "/Form"]
    for stream in (*(page.get_contents() for page in reader.pages), *forms):
        body = re.sub(rb"\((?:\\.|[^\\)])*\)|<[0-9A-Fa-f\s]*>", b" ", stream.get_data(), flags=re.DOTALL)
        words, depth = body.split(), 0
        for i, word in enumerate(words):
            if word in (b"q", b"Q"):
                depth += 1 if word == b"q" else -1
                depths.append(depth)
            elif word in (b"cs", b"CS"):
                spaces.add(words[i - 1].decode())
        operators |= {word for word in set(words) if re.fullmatch(rb"[A-Za-z][A-Za-z0-9]?\*?|'|\"", word)}
    return Said(tuple(depths), frozenset(operators), frozenset(spaces))


def test_header_and_trailer(data: bytes, reader: pypdf.PdfReader) -> None:
    """6.1.2: "%PDF-1.n", then a comment of four bytes or more above 127. 6.1.3: ID, no Encrypt, nothing after the end."""
    first, second = data.split(b"\n", 2)[:2]
    assert re.fullmatch(rb"%PDF-1\.[0-7]", first)
    assert second.startswith(b"%") and sum(byte > 127 for byte in second[1:5]) == 4
    assert len(reader.trailer["/ID"]) == 2 and "/Encrypt" not in reader.trailer
    assert data.rstrip(b"\r\n").endswith(b"%%EOF")


def test_each_stream_ends_where_it_says(data: bytes) -> None:
    """6.1.7.1: Length counts from after the line of `stream` to before the end of line that stands before `endstream`.

    Read by one who takes CR LF as one end of line and knows no Length, each stream is as long as it says.
    """
    told = re.findall(rb"/Length (\d+)[^>]*>>\s*stream\n(.*?)(?:\r\n|\n)endstream", data, re.DOTALL)
    assert len(told) == data.count(b"endstream") > 3
    assert [int(length) for length, body in told if int(length) != len(body)] == []


def test_data_that_end_in_a_carriage_return_have_an_end_of_line_of_their_own() -> None:
    objects = [
        b"1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n",
        b"2 0 obj\n<</Type/Pages/Kids[4 0 R]/Count 1>>\nendobj\n",
        b"3 0 obj\n<</Length 7>>stream\n0 0 m \r\nendstream\nendobj\n",
        b"4 0 obj\n<</Type/Page/Parent 2 0 R/Contents 3 0 R/MediaBox[0 0 9 9]>>\nendobj\n",
    ]
    body, places = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", list[int]()
    for one in objects:
        places.append(len(body))
        body += one
    table = b"".join(b"%010d 00000 n\r\n" % place for place in places)
    end = b"trailer\n<</Size 5/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF" % len(body)
    plain = body + b"xref\n0 5\n0000000000 65535 f\r\n" + table + end
    told = ends_told(plain)
    assert told.count(b"0 0 m \r\r\nendstream") == 1 and len(told) == len(plain) + 1
    assert told[int(told.split()[-2]) :].startswith(b"xref")
    reader = pypdf.PdfReader(io.BytesIO(told), strict=True)
    for number, _ in enumerate(
        objects, 1
    ):  # the table leads to each object, those behind the longer line too
        place = int(told[told.rindex(b"xref\n0 5") :].split(b"\n")[number + 2].split()[0])
        assert told[place:].startswith(b"%d 0 obj" % number)
    assert len(reader.pages) == 1 and reader.pages[0]["/Contents"].get_data().split() == [b"0", b"0", b"m"]


def test_a_validator_of_the_standard_finds_nothing(data: bytes) -> None:
    page = pytest.importorskip("page", reason="the package page-validation is not installed")
    report = page.validate_pdf_bytes(data)
    assert report.profile == page.ValidationProfile.PDF_A_2B
    assert report.is_compliant, [failure.message for failure in report.failures][:5]


def test_limits(reader: pypdf.PdfReader, said: Said) -> None:
    """6.1.13: names of 127 bytes, strings of 32767, numbers within bounds, 28 saved states, pages of 3 to 14400 units."""
    for page in reader.pages:
        assert 3 <= float(page.mediabox.width) <= 14400 and 3 <= float(page.mediabox.height) <= 14400
    assert int(reader.trailer["/Size"]) < 8_388_607

    def look(thing: Any) -> None:
        if isinstance(thing, dict):
            for key, value in thing.items():
                assert len(str(key)) <= 128
                look(value)
        elif isinstance(thing, list):
            for value in thing:
                look(value)
        elif isinstance(thing, (str, bytes)):
            assert len(thing) <= 32767
        elif isinstance(thing, int):
            assert abs(thing) <= 2_147_483_647
        elif isinstance(thing, float):
            assert abs(thing) <= 3.403e38

    for _, thing in things(reader):
        look(thing)
    assert min(said.depths) == 0 and 1 <= max(said.depths) <= 28


def test_colours_are_told_by_a_profile(reader: pypdf.PdfReader, said: Said) -> None:
    """6.2.2, 6.2.3: one RGB output intent with its profile (ICC.1, version 2 or 4); 6.2.4.3: no CMYK anywhere."""
    (intent,) = (entry.get_object() for entry in reader.trailer["/Root"]["/OutputIntents"])
    profile = intent["/DestOutputProfile"].get_object()
    icc = profile.get_data()
    assert profile["/N"] == 3 and icc[16:20] == b"RGB " and icc[12:16] in (b"mntr", b"prtr", b"scnr")
    assert icc[36:40] == b"acsp" and icc[8] in (2, 4) and len(icc) == int.from_bytes(icc[:4], "big")
    assert not {b"k", b"K"} & said.operators and "/DeviceCMYK" not in said.spaces
    assert {b"re", b"l", b"m"} & said.operators  # and so the words are words
    for _, thing in things(reader):
        if isinstance(thing, dict) and thing.get("/Subtype") == "/Image":
            assert thing.get("/ColorSpace") != "/DeviceCMYK"


def test_fonts_are_within_and_as_wide_as_they_say(reader: pypdf.PdfReader) -> None:
    """6.2.11.4: embedded; 6.2.11.5: widths of the file and of the font itself agree within a thousandth; ToUnicode for each."""
    found = 0
    for _, thing in things(reader):
        if not isinstance(thing, dict) or thing.get("/Type") != "/Font" or thing.get("/Subtype") != "/Type0":
            continue
        assert thing["/Encoding"] == "/Identity-H" and "/ToUnicode" in thing
        inner = thing["/DescendantFonts"][0].get_object()
        descriptor = inner["/FontDescriptor"].get_object()
        raw = (descriptor.get("/FontFile2") or descriptor.get("/FontFile3")).get_object()
        body = raw.get_data()
        widths, default = _widths(inner), float(inner.get("/DW", 1000))
        if raw.get("/Subtype") == "/CIDFontType0C":  # bare outlines: fontTools wants the table alone
            from fontTools.cffLib import CFFFontSet

            fonts = CFFFontSet()
            fonts.decompile(io.BytesIO(body), None)
            top = fonts[0]
            charstrings, em = top.CharStrings, 1000.0
            order = list(top.charset)
            for name in order[1:40]:
                glyph = charstrings[name]
                glyph.draw(_Nothing())
                cid = int(name[3:]) if name.startswith("cid") else order.index(name)
                assert widths.get(cid, default) == pytest.approx(glyph.width * 1000 / em, abs=1.0)
        else:
            font = TTFont(io.BytesIO(body))
            em, metrics = font["head"].unitsPerEm, font["hmtx"].metrics
            order = font.getGlyphOrder()
            for cid, width in widths.items():
                if cid < len(order):
                    assert width == pytest.approx(metrics[order[cid]][0] * 1000 / em, abs=1.0)
        found += 1
    assert found
    kinds = {
        t.get("/Subtype") for _, t in things(reader) if isinstance(t, dict) and t.get("/Type") == "/Font"
    }
    assert kinds <= {"/Type0", "/CIDFontType0", "/CIDFontType2"}


class _Nothing:
    """A pen that draws nothing: only the width is wanted."""

    def __getattr__(self, name: str) -> Callable[..., None]:
        return lambda *points, **more: None


def _widths(font: Any) -> dict[int, float]:
    """The widths that a CID font lists."""
    out: dict[int, float] = {}
    array = list(font.get("/W", []))
    while array:
        first = int(array.pop(0))
        second = array.pop(0)
        if isinstance(second, list):
            out.update({first + i: float(width) for i, width in enumerate(second)})
        else:
            width = float(array.pop(0))
            out.update(dict.fromkeys(range(first, int(second) + 1), width))
    return out


def test_metadata_says_the_same_twice(reader: pypdf.PdfReader) -> None:
    """6.6.2, 6.6.4: unfiltered XMP that names part and level, and title and author as the document's own entries have them."""
    metadata = reader.trailer["/Root"]["/Metadata"].get_object()
    assert "/Filter" not in metadata and metadata["/Subtype"] == "/XML"
    xmp = metadata.get_data().decode()
    assert re.search(r"pdfaid:part\W+2\b", xmp) and re.search(r"pdfaid:conformance\W+B\b", xmp)
    info = reader.metadata
    assert info is not None and info.title and info.title in unescape(xmp)
    if info.author:
        assert info.author in unescape(xmp)
    written = info.get("/CreationDate") or info.get("/ModDate")
    if written:
        year, month, day = str(written)[2:6], str(written)[6:8], str(written)[8:10]
        assert f"{year}-{month}-{day}" in xmp


def test_what_is_seen_through_has_its_colours_told(reader: pypdf.PdfReader) -> None:
    """6.2.10: on a page with anything transparent the colours are blended in a space that is told: the page's group or the intent.
    No blend mode but those of ISO 32000-1; images of dots carry no alternate and are not smoothed by the reader (6.2.8).
    """
    for _, thing in things(reader):
        if not isinstance(thing, dict):
            continue
        if thing.get("/Type") == "/ExtGState":
            assert thing.get("/BM", "/Normal") in (
                "/Normal",
                "/Compatible",
                "/Multiply",
                "/Screen",
                "/Overlay",
            )
            assert not {"/TR", "/HTP"} & set(thing)
        if thing.get("/Subtype") == "/Image":
            assert not {"/Alternates", "/OPI"} & set(thing) and not thing.get("/Interpolate", False)
    assert reader.trailer["/Root"]["/OutputIntents"]


def test_the_clients_set_holds_its_pictures(file: Path, reader: pypdf.PdfReader) -> None:
    """What is checked above is checked on images too, not on drawings alone."""
    images = [t for _, t in things(reader) if isinstance(t, dict) and t.get("/Subtype") == "/Image"]
    sizes = {(int(image["/Width"]), int(image["/Height"])) for image in images}
    assert ((96, 64) in sizes) == (file.name == CLIENT)


def test_nothing_that_acts_hides_or_points_outwards(reader: pypdf.PdfReader) -> None:
    """6.1.7, 6.3, 6.5, 6.8: no LZW or crypt filter, script, launch, form, attachment, sound, hidden layer; notes only as links."""
    root = reader.trailer["/Root"]
    assert not {"/AcroForm", "/OpenAction", "/AA", "/OCProperties", "/Requirements"} & set(root)
    assert "/EmbeddedFiles" not in root.get("/Names", {})
    forbidden = {
        "/JavaScript",
        "/Launch",
        "/Sound",
        "/Movie",
        "/ResetForm",
        "/ImportData",
        "/Hide",
        "/SetOCGState",
        "/Rendition",
    }
    for number, thing in things(reader):
        if not isinstance(thing, dict):
            continue
        filters = thing.get("/Filter", [])
        assert not {"/LZWDecode", "/Crypt"} & set(filters if isinstance(filters, list) else [filters]), number
        assert thing.get("/S") not in forbidden, number
        assert "/F" not in thing or thing.get("/Type") != "/XObject", number
        if thing.get("/Type") == "/Annot":
            assert thing["/Subtype"] == "/Link", number
            assert int(thing.get("/F", 0)) & 0b100, number  # printed


def test_another_reader_goes_through_every_page(
    file: Path, program: Callable[[str], str], reader: pypdf.PdfReader
) -> None:
    call = [
        program("gs"),
        "-q",
        "-dBATCH",
        "-dNOPAUSE",
        "-dSAFER",
        "-dPDFSTOPONERROR",
        "-sDEVICE=nullpage",
        str(file),
    ]
    done = subprocess.run(call, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0 and "error" not in (done.stdout + done.stderr).lower(), done.stdout[-400:]
    count = subprocess.run([program("pdfinfo"), str(file)], capture_output=True, text=True, check=True).stdout
    assert re.search(rf"Pages:\s+{len(reader.pages)}\b", count)
