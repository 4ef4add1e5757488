import { me, head } from './session.ts'
import { say } from './say.ts'
import type { Head, Me } from './shapes.ts'
import { dayAndClock, figure, wholePrint } from './words.ts'
import './about.css'

/** Which server this is, the latest log fingerprint it signed, and how anyone can check what it hands over. */
export function About() {
  const session = me.value
  if (!session) return null
  return (
    <section class="page about-page" aria-labelledby="about-title">
      <header class="page-head along wrapped">
        <h1 id="about-title">{session.workshop.name}</h1>
      </header>
      {session.demo && <p class="about-demo washed">{say('about.demo')}</p>}
      <div class="about-sheet columned headed">
        <LogFingerprint last={head.value} />
        <ThisServer session={session} />
        <HowToCheck />
        <section aria-labelledby="limits-title">
          <h2 id="limits-title">{say('about.limits')}</h2>
          <p>{say('about.limits_text')}</p>
        </section>
      </div>
    </section>
  )
}

function LogFingerprint({ last }: { last: Head | null }) {
  return (
    <section aria-labelledby="head-title">
      <h2 id="head-title">{say('about.fingerprint')}</h2>
      <p>{say('about.fingerprint_text')}</p>
      {last ? (
        <dl class="facts facts-wide">
          <div>
            <dt>{say('frame.cell_records')}</dt>
            <dd class="figure">{figure(last.size)}</dd>
          </div>
          <div>
            <dt>{say('about.fact_fingerprint')}</dt>
            <dd class="figure about-print breaks">{wholePrint(last.root)}</dd>
          </div>
          <div>
            <dt>{say('about.fact_signed')}</dt>
            <dd>{dayAndClock(last.time)}</dd>
          </div>
        </dl>
      ) : (
        <p class="empty">{say('about.none_signed')}</p>
      )}
    </section>
  )
}

function ThisServer({ session }: { session: Me }) {
  return (
    <section aria-labelledby="server-title">
      <h2 id="server-title">{say('about.server')}</h2>
      <dl class="facts facts-wide">
        <div>
          <dt>{say('about.fact_key_fingerprint')}</dt>
          <dd class="figure about-print breaks">{wholePrint(session.server)}</dd>
        </div>
        <div>
          <dt>{say('about.fact_restore_mark')}</dt>
          <dd class="figure about-print breaks">{session.epoch}</dd>
        </div>
      </dl>
      <p>{say('about.server_text')}</p>
    </section>
  )
}

function HowToCheck() {
  return (
    <section aria-labelledby="verify-title">
      <h2 id="verify-title">{say('about.check')}</h2>
      <ol class="steps">
        <li>
          <b>{say('about.check_pack')}</b> {say('about.check_pack_how')}
          <br />
          <code>python3 verify.pyz</code>
          <br />
          {say('about.check_pack_or')}
          <br />
          <code>{say('about.check_pack_command')}</code>
          <br />
          {say('about.check_pack_does')}
        </li>
        <li>
          <b>{say('about.check_tools')}</b> {say('about.check_tools_how')}
          <br />
          <code>sha256sum -c manifest-sha256.txt</code>
        </li>
        <li>
          <b>{say('about.check_two_packs')}</b> {say('about.check_two_packs_how')}
        </li>
      </ol>
    </section>
  )
}
