"""The page that takes a phone from 'never heard of it' to the app: what to install, how to check it, where to go.

It stands alone in one file, because it is read before the phone trusts anything the server sends.
"""

from __future__ import annotations

from html import escape

import segno

from witnessmark.config import Settings
from witnessmark.operate.certificate import fingerprint

_STEPS = [
    (
        "Phones that ask to install a profile",
        [
            "Fetch the certificate with the button above and allow the download.",
            "Open the phone's settings: near the top it says that a profile was downloaded. Install it.",
            "Still in settings, under general, about, certificate trust: switch full trust on for this workshop.",
            "Come back here and open the app. From the share menu, put it on the home screen.",
        ],
    ),
    (
        "Phones that install from a file",
        [
            "Fetch the certificate with the button above. Opening the file alone may not be enough.",
            "Open settings and search for 'CA certificate' (under security, encryption and credentials).",
            "Choose CA certificate, accept the warning, and pick the file workshop-ca.crt from the downloads.",
            "Come back here and open the app. From the browser's menu, install it or add it to the home screen.",
        ],
    ),
    (
        "Computers on the workshop's network",
        [
            "Fetch the certificate and open it; import it under trusted root authorities.",
            "Some browsers keep a list of their own: settings, privacy, certificates, authorities, import.",
            "The computer the server runs on needs none of this.",
        ],
    ),
]

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


def make(settings: Settings, workshop: str, page_url: str, app_url: str) -> str:
    """The whole page as HTML. `page_url` is where a phone finds it without a certificate, `app_url` the phone app."""
    kinds = "".join(
        f"<h2>{escape(title)}</h2><ol>{''.join(f'<li>{escape(step)}</li>' for step in steps)}</ol>"
        for title, steps in _STEPS
    )
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark"><title>Bring a phone in: {escape(workshop)}</title>
<style>{_LOOK}</style></head>
<body><main>
<header><p><small>Workshop</small>{escape(workshop)}</p><p><small>Sheet</small>Bring a phone in</p></header>
<h1>Let this phone trust the workshop's server</h1>
<p>The app works in the bay without signal only if the phone knows that the server is yours. Once for each phone:
install the workshop's certificate, then open the app. It speaks for addresses inside the workshop's network and
for nothing else: no shop, no bank, no mail.</p>
<p><a class="act" href="/certificate/workshop-ca.crt" download="workshop-ca.crt">Fetch the certificate</a>
<a class="act plain" href="{escape(app_url)}">Open the app</a></p>
<section class="print"><h2>Check it before you trust it</h2>
<p>The phone shows this fingerprint (SHA-256) when you install. Compare it with the one on the server's own screen;
if they differ, stop and ask whoever runs the server.</p><p><code>{fingerprint(settings)}</code></p></section>
{kinds}
<h2>For the next phone</h2>
<div class="codes">
{_code("1. This page", page_url)}
{_code("2. The app", app_url)}
</div></main></body></html>
"""


def _code(what: str, url: str) -> str:
    picture = segno.make(url, error="m").svg_inline(scale=5, border=3)
    picture = picture.replace("<svg ", f'<svg role="img" aria-label="{escape(what)} as a QR code" ', 1)
    return f"<figure>{picture}<figcaption>{escape(what)}: {escape(url)}</figcaption></figure>"
