import { useEffect, useState } from 'preact/hooks'
import { pendingCapture, signedIn, stayAt } from '../capture/index.ts'
import { type Job, type Server, health, inTheWay, phone } from '../store/index.ts'
import { ServerProvider } from './frame/server.ts'
import { Begin } from './tightening/Begin.tsx'
import { Bench } from './job/Bench.tsx'
import { Camera } from './camera/Camera.tsx'
import { DocumentAdd } from './job/DocumentAdd.tsx'
import { EntryView } from './job/EntryView.tsx'
import { Facts } from './job/Facts.tsx'
import { Finding } from './job/Finding.tsx'
import { Fits } from './measuring/Fits.tsx'
import { Grid } from './measuring/Grid.tsx'
import { Jobs } from './job/Jobs.tsx'
import { Join, Mark, codeIn } from './people/Join.tsx'
import { Measure } from './measuring/Measure.tsx'
import { NewJob } from './job/NewJob.tsx'
import { Note } from './job/Note.tsx'
import { OneReading } from './measuring/OneReading.tsx'
import { OnThisPhone } from './phone/OnThisPhone.tsx'
import { PictureInputs } from './camera/PictureInputs.tsx'
import { PictureView } from './camera/PictureView.tsx'
import { Places } from './job/Places.tsx'
import { Record } from './job/Record.tsx'
import { Run } from './tightening/Run.tsx'
import { Say } from './speaking/Say.tsx'
import { Settings } from './phone/Settings.tsx'
import { Stage } from './job/Stage.tsx'
import { Tighten } from './tightening/Tighten.tsx'
import { AlarmStrip } from './phone/LogChanged.tsx'
import { Torque } from './tightening/Torque.tsx'
import { WhoIsHere } from './people/WhoIsHere.tsx'
import { dress } from './frame/hand.ts'
import { pendingWords } from './camera/pictures.ts'
import { AT_ONCE, begin, instead, open, route } from './frame/route.ts'
import { useJob } from './frame/useJob.ts'
import { say } from './frame/say.ts'

/** The bay: one screen at a time, the one that was open when the app was last closed. */
export function App({ server }: { server: Server }) {
  const [code] = useState(() => codeFromAddress())
  const [ready, setReady] = useState(false)
  useEffect(() => {
    dress()
    void begin()
      .then(afterKill)
      .then(() => setReady(true))
  }, [])
  if (!ready) return null
  return (
    <ServerProvider value={server}>
      <div class="bay">
        {inTheWay.value && (
          <p class="alarm is-top bold washed" role="alert">
            {inTheWay.value}
          </p>
        )}
        {phone.value && route.value.screen !== 'phone' && <AlarmStrip />}
        <Shown code={code} />
        <PictureInputs />
      </div>
    </ServerProvider>
  )
}

function Shown({ code }: { code: string }) {
  const { screen } = route.value
  if (health.value.state === 'blocked') return <Blocked reason={health.value.reason} />
  if (!phone.value) return <Join code={code} />
  if (screen === 'phone') return <OnThisPhone />
  if (screen === 'settings') return <Settings />
  if (!signedIn.value || screen === 'who') return <WhoIsHere onDone={afterSignIn} />
  if (screen === 'new') return <NewJob />
  return route.value.job ? <OfJob /> : <Jobs />
}

function OfJob() {
  const job = useJob()
  if (!job) return <Jobs />
  return screenOf(job, route.value.screen, route.value.about)
}

function screenOf(job: Job, screen: string, about: string) {
  switch (screen) {
    case 'places':
      return <Places job={job} />
    case 'camera':
      return <Camera job={job} />
    case 'say':
      return <Say job={job} atOnce={about === AT_ONCE} />
    case 'note':
      return <Note job={job} />
    case 'measure':
      return <Measure job={job} />
    case 'reading':
      return <OneReading job={job} />
    case 'grid':
      return <Grid job={job} code={about} />
    case 'torque':
      return <Tighten job={job} />
    case 'begin':
      return <Begin job={job} about={about} />
    case 'run':
      return <Run job={job} id={about} />
    case 'bolt':
      return <Torque job={job} />
    case 'fits':
      return <Fits job={job} />
    case 'finding':
      return <Finding job={job} />
    case 'document':
      return <DocumentAdd job={job} />
    case 'stage':
      return <Stage job={job} />
    case 'facts':
      return <Facts job={job} />
    case 'record':
      return <Record job={job} hereOnly={about === 'here'} />
    case 'entry':
      return <EntryView job={job} id={about} />
    case 'picture':
      return <PictureView job={job} id={about} />
    default:
      return <Bench job={job} />
  }
}

/** Nothing can be recorded here: why, and what to do. */
function Blocked({ reason }: { reason: string }) {
  return (
    <main class="page">
      <Mark />
      <h1 class="headline">{say('blocked.title')}</h1>
      <p>{reason}</p>
      <p class="soft">{say('blocked.nothing_lost')}</p>
    </main>
  )
}

function afterSignIn(): void {
  if (route.value.screen !== 'who') return
  if (history.length > 2) history.back()
  else open('jobs')
}

function codeFromAddress(): string {
  if (!/join=/.test(location.hash)) return ''
  const code = codeIn(location.hash)
  history.replaceState(null, '', '#/join')
  return code
}

/** The page was killed while the camera was open: back to that very place, with a sentence that says so. */
async function afterKill(): Promise<void> {
  const pending = await pendingCapture().catch(() => null)
  if (!pending) return
  await stayAt({ job: pending.job, place: pending.place, point: pending.point })
  pendingWords.value = say('camera.no_picture_came')
  instead('camera', pending.job)
}
