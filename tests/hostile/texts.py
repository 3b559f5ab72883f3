"""Texts that try to be more than text. Each holds the mark `zq`, by which it is found again whatever became of it."""

import re

MARK = "zq"
TEXTS = {
    "script": "<script>alert('zq')</script>",
    "image": '"><img src=zq onerror="alert(1)">zq',
    "apostrophe": "'><svg onload='zq'>",
    "cdata": "zq]]><x zq='1'/>",
    "comment": "zq--><!-- zq --!>",
    "open comment": "zq <!-- no end",
    "ends": "zq</style></script></title></textarea></svg></g></td></table><zq>",
    "entities": "&lt;b class=zq&gt;&#60;img zq&#62;&amp;lt;&nbsp;&bogus;",
    "doctype": 'zq<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/hostname">]>&e;',
    "instructions": "<?xml version='1.0'?><?zq do?>",
    "templates": "{{7*7}}${7*7}#{7*7}<%= 7*7 %>{% zq %}",
    "formats": "%s{0}%(zq)s{zq}%n%d{}{!r}%%{{",
    "equals": "=cmd|' /C calc'!zq",
    "plus": "+1+zq",
    "minus": "-2+3+zq",
    "at": "@SUM(zq)",
    "tab": "\t=zq",
    "quoted formula": '"=1+zq',
    "later formula": "zq;=1+1\n=1+1\r\n+1\r-1",
    "full width": "\uff1d1+zq",
    "link": '=HYPERLINK("http://example.org/zq","x")',
    "array": "{=zq}",
    "return": "\r=1+zq",
    "head lines": "zq\nBcc: zq@example.org\nContent-Type: text/html\n\n<zq>",
    "turned round": "zq\u202efdp.exe\u2066\u2069\u200f\u061c",
    "unseen": "zq\u200b\u200d\u2060\ufe0f\u00ad\u034f\u115f",
    "astral": "zq\U0001f697\U0001d4d0\U00020000\U000e0041",
    "no characters": "zq\ufdd0\U0001fffe\ufffd\ufffc\ue000",
    "marks": "zq" + "\u0301" * 200,
    "scripts": "zq αβ Жук 漢字 עברית العربية ไทย",
    "long word": "zq" + "w" * 10_000,
    "many lines": "zq\n" * 60,
    "paragraph markup": "<para><b class='zq'>b</b><font color='zq'>f</font><img src='zq'/><a href='zq'>a</a></para>",
    "broken markup": "<b class=zq><i></b></para><zq",
    "markdown": "[zq](javascript:zq()) **b** `c` # h | x | ![zq](zq)",
    "style": "zq;}*{display:none}@import url(//zq.example)",
    "path": "../../../../zq/%2e%2e/zq",
    "escapes": "zq\\u0000\\x1b[31m\\n\\\\",
    "quotes": "zq\"'`\u00b4\u2018\u201c",
    "blank": " \t \u00a0\u3000zq \u2003",
    "workbook": "_x003C_zq_x000A_<r><t>zq</t></r>",
    "code": "__proto__ constructor ';zq=1//",
}
REFUSED = {
    "nul": "\0",
    "clear the screen": "\x1b[2J",
    "bell": "\x07",
    "backspace": "\x08",
    "delete": "\x7f",
    "c1": "\x9b31m",
    "next line": "\x85",
    "line separator": "\u2028",
    "byte order mark": "\ufeff",
    "half a pair": "\ud800",
    "no character": "\uffff",
}
"""What no file may hold, in quotes or bare."""
NAMES = {
    "formula": "-9-{}",
    "other scripts": "{}_漢字_Ж_\U0001d4d0",
    "long": "{}_" + "w" * 60,
    "object": "__proto__{}",
}
"""What names may be made of: `{}` stands for the name itself."""
_LEAST = re.compile(r"\s+")


def quoted(text: str) -> str:
    """Return a text as YAML has it in double quotes; what cannot be seen as an escape."""
    return '"' + "".join(_escaped(char) for char in text) + '"'


def _escaped(char: str) -> str:
    if char in '"\\':
        return "\\" + char
    if char.isprintable():
        return char
    code = ord(char)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def packed(text: str) -> str:
    """Return a text without its blanks: as it can be found again however its lines were broken."""
    return _LEAST.sub("", text)
