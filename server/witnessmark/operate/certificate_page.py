"""The page that takes a phone from 'never heard of it' to the app: what to install, how to check it, where to go.

It stands alone in one file, because it is read before the phone trusts anything the server sends.
"""

from __future__ import annotations

from html import escape

import segno

from witnessmark.config import Settings
from witnessmark.operate.certificate import fingerprint
from witnessmark.trade.ground.sentences import locale, say

_STEPS = {
    say("server.certificate.profile"): [
        say("server.certificate.profile_fetch"),
        say("server.certificate.profile_install"),
        say("server.certificate.profile_trust"),
        say("server.certificate.profile_open"),
    ],
    say("server.certificate.file"): [
        say("server.certificate.file_fetch"),
        say("server.certificate.file_settings"),
        say("server.certificate.file_choose"),
        say("server.certificate.file_open"),
    ],
    say("server.certificate.computers"): [
        say("server.certificate.computers_import"),
        say("server.certificate.computers_browser"),
        say("server.certificate.computers_none"),
    ],
}

_LOOK = """
:root{--paper:#f6f3ea;--raised:#fbf9f3;--ink:#141c2b;--soft:#4b5362;--line:#7c7f82;--blue:#1b4a8f;--on:#fff;--brass:#7a4d0f}
@media(prefers-color-scheme:dark){:root{--paper:#0e151f;--raised:#141d2a;--ink:#e9edf3;--soft:#aab4c3;--line:#77839a;
--blue:#8fb8f4;--on:#0b1320;--brass:#e2b575}}
*{box-sizing:border-box}body{margin:0;background:var(--paper);color:var(--ink);
font:400 1.05rem/1.5 "Atkinson Hyperlegible Next",system-ui,sans-serif}
main{max-width:46rem;margin:16px auto;padding:0 16px 48px;border:1.5px solid var(--ink);background:var(--raised)}
header{display:grid;grid-template-columns:1fr auto;margin:0 -16px 20px;border-bottom:1.5px solid var(--ink)}
header p{margin:0;padding:8px 16px}header p+p{border-left:1px solid var(--ink)}
small{display:block;color:var(--soft);font-size:.89rem}
h1{font-size:1.7rem;line-height:1.2}h2{font-size:1.25rem;margin-top:32px}
ol{padding-left:1.4em}li{margin:6px 0}
code{font:1rem/1.7 "Atkinson Hyperlegible Mono",ui-monospace,monospace;overflow-wrap:anywhere}
a.act{display:inline-block;min-height:56px;padding:14px 24px;margin:4px 8px 4px 0;border:1.5px solid var(--blue);
background:var(--blue);color:var(--on);font-weight:700;text-decoration:none}
a.act.plain{background:none;color:var(--blue)}a:focus-visible{outline:3px solid var(--brass);outline-offset:2px}
.codes{display:flex;flex-wrap:wrap;gap:24px}figure{margin:0}figure svg{background:#fff;display:block}
figcaption{max-width:15rem;overflow-wrap:anywhere}section.print{border-left:2.5px solid var(--ink);padding-left:16px}
"""


# In the page itself too: the door, which shows it without https, adds no headers of its own.
_FENCE = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"


def make(settings: Settings, workshop: str, page_url: str, app_url: str) -> str:
    """The whole page as HTML. `page_url` is where a phone finds it without a certificate, `app_url` the phone app."""
    kinds = "".join(
        f"<h2>{escape(title)}</h2><ol>{''.join(f'<li>{escape(step)}</li>' for step in steps)}</ol>"
        for title, steps in _STEPS.items()
    )
    return f"""<!doctype html>
<html lang="{locale().language}"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{_FENCE}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark"><title>{_shown("server.certificate.title", workshop=workshop)}</title>
<style>{_LOOK}</style></head>
<body><main>
<header><p><small>{_shown("server.certificate.workshop")}</small>{escape(workshop)}</p><p><small>{_shown("server.certificate.sheet")}</small>{_shown("server.certificate.add_phone")}</p></header>
<h1>{_shown("server.certificate.heading")}</h1>
<p>{_shown("server.certificate.why")}</p>
<p><a class="act" href="/certificate/workshop-ca.crt"
   download="workshop-ca.crt">{_shown("server.certificate.fetch")}</a>
<a class="act plain" href="{escape(app_url)}">{_shown("server.certificate.open")}</a></p>
<section class="print"><h2>{_shown("server.certificate.check")}</h2>
<p>{_shown("server.certificate.compare")}</p><p><code>{fingerprint(settings)}</code></p></section>
{kinds}
<h2>{_shown("server.certificate.next_phone")}</h2>
<div class="codes">
{_code(say("server.certificate.this_page"), page_url)}
{_code(say("server.certificate.the_app"), app_url)}
</div></main></body></html>
"""


def _shown(key: str, **filled: str) -> str:
    return escape(say(key, **filled))


def _code(what: str, url: str) -> str:
    picture = segno.make(url, error="m").svg_inline(scale=5, border=3)
    label = escape(say("server.certificate.code", what=what))
    picture = picture.replace("<svg ", f'<svg role="img" aria-label="{label}" ', 1)
    return f"<figure>{picture}<figcaption>{escape(what)}: {escape(url)}</figcaption></figure>"
