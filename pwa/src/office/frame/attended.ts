// Whether anybody is at this page. A page that only looks for news must not keep its session open for ever.

const SOON_MS = 60_000
const UNATTENDED = { 'Witnessmark-Unattended': '1' }

let touched = Date.now()

/** Starts noticing hands on the page. */
export function noticeHands(page: Pick<EventTarget, 'addEventListener'>): void {
  for (const kind of ['pointerdown', 'pointermove', 'keydown', 'wheel'])
    page.addEventListener(kind, () => (touched = Date.now()), { capture: true, passive: true })
}

/** The header by which a request says that nobody has touched the page for a minute. */
export function unattended(): Record<string, string> {
  return Date.now() - touched > SOON_MS ? UNATTENDED : {}
}
