import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { Out } from '../../parts/controls/icons.tsx'
import { exportFile, phone, refreshRoom, waiting } from '../../store/index.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { handOver } from '../frame/TakeOut.tsx'
import { open } from '../frame/route.ts'
import { say } from '../frame/say.ts'
import { useServer } from '../frame/server.ts'
import { clockTime, sentence, waitingText } from '../frame/words.ts'
import { codeIn } from '../people/Join.tsx'
import { LogChanged } from './LogChanged.tsx'
import { Refusals } from './Refusals.tsx'
import { RoomLeft } from './RoomLeft.tsx'
import { UpdateReady } from './UpdateReady.tsx'
import './phone.css'

/** What waits on this phone, why, and what can be done about it; in words, and never with anything lost. */
export function OnThisPhone() {
  const server = useServer()
  const s = server.status.value
  const w = waiting.value
  const held = w.records + w.pictures + w.sounds
  const [message, setMessage] = useState('')
  useEffect(() => void refreshRoom(), [])
  return (
    <Screen
      title={say('phone.title')}
      acts={
        <>
          <BackAct />
          <Act name={say('settings.title')} small onAct={() => open('settings')} />
          <Act name={s.running ? say('phone.sending') : say('phone.send_now')} main sign={<Out size={28} />} off={s.running} onAct={() => void server.sendNow()} />
        </>
      }
    >
      {s.alarm && (
        <p class="alarm bold washed" role="alert">
          {s.alarm}
        </p>
      )}
      <LogChanged />
      <Outbox held={held} />
      <UpdateReady />
      <Refusals onTakeOut={(onDone) => void takeOut('attention', onDone)} />
      {held > 0 && (
        <section>
          <h2>{say('phone.other_way')}</h2>
          <p class="small soft">{say('phone.other_way_about')}</p>
          <button type="button" class="wide" onClick={() => void takeOut('unsent', setMessage)}>
            {say('phone.save_waiting')}
          </button>
        </section>
      )}
      <RoomLeft onMessage={setMessage} />
      <StatusMessage words={message} />
    </Screen>
  )
}

/** How much waits to be sent, when the server was last reached, and what stands in the way. */
function Outbox({ held }: { held: number }) {
  const s = useServer().status.value
  const w = waiting.value
  const waitingWords = say('phone.waiting', { what: waitingText(w) })
  const nothingWaits = w.attention ? say('phone.nothing_else') : say('phone.all_received')
  return (
    <section class="outbox">
      <p class="outbox-figure">
        <span class="figure">{held}</span>
      </p>
      <div>
        <p class="outbox-words bold">{held ? waitingWords : nothingWaits}</p>
        <p>{s.reached ? say('phone.last_reached', { time: clockTime(s.reached) }) : say('phone.never_reached')}</p>
        {s.why && <p class="outbox-why">{s.why}</p>}
        {s.shutDoor && <FreshCode />}
        {s.progress && (
          <p role="status" class="figure small">
            {s.progress}
          </p>
        )}
        {s.clock && <p class="caution">{s.clock}</p>}
      </div>
    </section>
  )
}

/** A phone that a restored server does not know is added again, with the records and the number it has. */
function FreshCode() {
  const server = useServer()
  const [code, setCode] = useState('')
  const [wrong, setWrong] = useState('')
  const rejoin = async () => {
    setWrong('')
    try {
      await server.join(codeIn(code), phone.value?.device.name ?? '')
      await server.sendNow()
    } catch (fault) {
      setWrong(sentence(fault))
    }
  }
  return (
    <div class="form">
      <Field label={say('phone.fresh_code')} value={code} onValue={setCode} figures wrong={wrong} />
      <button type="button" class="wide" disabled={!code.trim()} onClick={() => void rejoin()}>
        {say('phone.rejoin')}
      </button>
    </div>
  )
}

async function takeOut(which: 'unsent' | 'attention', onDone: (words: string) => void) {
  try {
    const stamp = new Date().toISOString().slice(0, 16).replace(/[:T]/g, '-')
    handOver(await exportFile(which), `${which === 'unsent' ? 'waiting' : 'needs-attention'}-${stamp}.zip`)
    onDone(say('phone.file_saved'))
  } catch (fault) {
    onDone(sentence(fault))
  }
}
