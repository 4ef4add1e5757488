import { me, head } from './session.ts'
import { dayAndClock, figure, wholePrint } from './words.ts'

/** Which server this is, the last head it signed, and how anyone can check what it hands over. */
export function About() {
  const told = me.value
  const last = head.value
  if (!told) return null
  return (
    <section class="page about-page" aria-labelledby="about-title">
      <header class="page-head">
        <h1 id="about-title">{told.workshop.name}</h1>
      </header>
      {told.demo && (
        <p class="about-demo">
          This is a demonstration. The workshop, its people, vehicles, engines and limits are invented.
        </p>
      )}
      <div class="about-sheet">
        <section aria-labelledby="head-title">
          <h2 id="head-title">The last head</h2>
          <p>
            All records stand in one log, in the order they reached this server. The head is one number that stands for
            every record up to it: change one letter anywhere, and it no longer fits. The server signs each head, and
            every phone and pack keeps those it was given.
          </p>
          {last ? (
            <dl class="facts facts-wide">
              <div>
                <dt>records</dt>
                <dd class="figure">{figure(last.size)}</dd>
              </div>
              <div>
                <dt>head</dt>
                <dd class="figure about-print">{wholePrint(last.root)}</dd>
              </div>
              <div>
                <dt>signed</dt>
                <dd>{dayAndClock(last.time)}</dd>
              </div>
            </dl>
          ) : (
            <p class="empty">No head has been signed yet: it comes with the first record.</p>
          )}
        </section>
        <section aria-labelledby="server-title">
          <h2 id="server-title">This server</h2>
          <dl class="facts facts-wide">
            <div>
              <dt>server</dt>
              <dd class="figure about-print">{wholePrint(told.server)}</dd>
            </div>
            <div>
              <dt>epoch</dt>
              <dd class="figure about-print">{told.epoch}</dd>
            </div>
          </dl>
          <p>
            The first is the print of the server's key. The second changes when the server was restored from an older
            copy; phones then offer again what it lost.
          </p>
        </section>
        <section aria-labelledby="verify-title">
          <h2 id="verify-title">How to check</h2>
          <ol class="steps">
            <li>
              <b>A pack.</b> Unpack it on any machine with Python and run <code>python3 verify.pyz</code> inside it, or
              run <code>witnessmark verify</code> with the pack's name. It checks every byte, chain and head, and lists
              all faults.
            </li>
            <li>
              <b>With ordinary tools.</b> A pack is a BagIt bag: <code>sha256sum -c manifest-sha256.txt</code> inside it
              checks the files without any program of ours.
            </li>
            <li>
              <b>Two packs against each other.</b> A pack given out later must contain the head of one given out
              earlier. If it does not, something was taken out in between.
            </li>
          </ol>
        </section>
        <section aria-labelledby="limits-title">
          <h2 id="limits-title">What it does not do</h2>
          <p>
            It does not prove that what was recorded is true, only that it was not changed since. Maker's data and local
            codes come first, and work that needs a licence needs a licensed person.
          </p>
        </section>
      </div>
    </section>
  )
}
