import { useEffect, useRef, useState } from 'preact/hooks'
import { About } from './frame/About.tsx'
import { noticeHands } from './frame/attended.ts'
import { EngineTypes } from './registers/engine_types/EngineTypes.tsx'
import { Facts } from './job/facts/Facts.tsx'
import { Figures } from './job/figures/Figures.tsx'
import { Bar } from './frame/Bar.tsx'
import { KeySheet } from './frame/KeySheet.tsx'
import { pageName } from './frame/pages.ts'
import { officeCells, Strip } from './frame/Strip.tsx'
import { SignIn } from './frame/SignIn.tsx'
import { wearRememberedTheme } from './frame/theme.ts'
import { Gauges } from './registers/measuring/Gauges.tsx'
import { Jobs } from './jobs/Jobs.tsx'
import { Joints } from './job/joints/Joints.tsx'
import { SearchScreen } from './jobs/SearchScreen.tsx'
import { listen, useKeys } from './frame/keys.ts'
import { Packs } from './job/pack/Packs.tsx'
import { jobCells, jobRemark } from './job/record/cells.tsx'
import { Record } from './job/record/Record.tsx'
import { openJob } from './job/record/state.ts'
import { follow, go, route } from './frame/route.ts'
import { say } from './frame/say.ts'
import { Procedures } from './registers/procedures/Procedures.tsx'
import { isManager, lapsed, loadSession, me, refreshHead, startFault } from './frame/session.ts'
import { Spoken } from './spoken/Spoken.tsx'
import { People } from './people/People.tsx'
import { Phones } from './people/Phones.tsx'
import { Fits } from './fits/Fits.tsx'

const HEAD_EVERY_MS = 20_000

/** The office: a sign-in, then one page at a time under the bar and above the title block. */
export function App() {
  useEffect(() => {
    wearRememberedTheme()
    follow()
    listen()
    noticeHands(window)
    void loadSession()
  }, [])
  if (me.value === undefined) {
    return <main class="opening">{startFault.value || say('frame.opening')}</main>
  }
  if (me.value === null) return <SignIn />
  return (
    <>
      <div class="office">
        <Office />
      </div>
      {lapsed.value && <Lapsed />}
    </>
  )
}

/** The way back in after a session ran out, laid over everything that was open, unfinished forms included. */
function Lapsed() {
  const over = useRef<HTMLDialogElement>(null)
  useEffect(() => over.current?.showModal(), [])
  return (
    <dialog class="lapsed" ref={over} aria-label={say('frame.signed_out')} onCancel={(event) => event.preventDefault()}>
      <SignIn />
    </dialog>
  )
}

function Office() {
  const [keys, setKeys] = useState(false)
  const [room = 'jobs', job, leaf = 'record'] = route.value.path
  const inJob = room === 'job' && job !== undefined
  useKeys({ '?': () => setKeys(true), b: () => go(['jobs']) })
  useEffect(() => {
    const timer = setInterval(() => document.visibilityState === 'visible' && void refreshHead(), HEAD_EVERY_MS)
    return () => clearInterval(timer)
  }, [])
  useEffect(() => openJob(inJob ? job : null), [inJob, job])
  useEffect(() => {
    document.title = `${pageName(room, leaf)}, witnessmark`
  }, [room, leaf])

  return (
    <>
      <a class="skip" href="#sheet" onClick={toPage}>
        {say('frame.skip')}
      </a>
      <Bar remark={inJob ? jobRemark() : ''} keys={() => setKeys(true)} />
      <main id="sheet" class="sheet-main ring-inside" tabIndex={inJob && leaf === 'record' ? -1 : 0}>
        <Screen room={room} job={job} leaf={leaf} />
      </main>
      <Strip cells={inJob ? jobCells() : officeCells(pageName(room, leaf))} />
      {keys && <KeySheet close={() => setKeys(false)} />}
    </>
  )
}

function toPage(event: Event): void {
  event.preventDefault()
  document.getElementById('sheet')?.focus()
}

function Screen({ room, job, leaf }: { room: string; job: string | undefined; leaf: string }) {
  if (room === 'job' && job) {
    if (leaf === 'figures') return <Figures job={job} />
    if (leaf === 'joints') return <Joints job={job} />
    if (leaf === 'pack') return <Packs job={job} />
    if (leaf === 'facts') return <Facts />
    return <Record />
  }
  if (room === 'search') return <SearchScreen />
  if (room === 'spoken') return <Spoken />
  if (room === 'engine-types') return <EngineTypes />
  if (room === 'procedures') return <Procedures />
  if (room === 'gauges') return <Gauges />
  if (room === 'fits') return <Fits />
  if (room === 'phones') return <Phones />
  if (room === 'people' && isManager.value) return <People />
  if (room === 'about') return <About />
  return <Jobs />
}
