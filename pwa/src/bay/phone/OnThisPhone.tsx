import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { Out } from '../../parts/controls/icons.tsx'
import { ROOM_RULE, type Row, type ShelfRow, exportFile, freeOriginals, keepForGood, phone, record, refreshRoom, room, shelf, size, waiting } from '../../store/index.ts'
import { line } from '../../trade/record/lines.ts'
import { useServer } from '../frame/ask.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { codeIn } from '../people/Join.tsx'
import { handOver } from '../frame/TakeOut.tsx'
import { open } from '../frame/route.ts'
import { useAsked } from '../frame/useAsked.ts'
import { capital, clockTime, load, sentence } from '../frame/words.ts'

/** What waits on this phone, why, and what can be done about it; in words, and never with anything lost. */
export function OnThisPhone() {
  const server = useServer()
  const { status, update } = server
  const s = status.value
  const w = waiting.value
  const held = w.records + w.pictures + w.sounds
  const [told, setTold] = useState('')
  useEffect(() => void refreshRoom(), [])
  return (
    <Screen
      title="On this phone"
      acts={
        <>
          <BackAct />
          <Act name="Settings" small onAct={() => open('settings')} />
          <Act name={s.running ? 'Sending' : 'Send now'} main sign={<Out size={28} />} off={s.running} onAct={() => void server.sendNow()} />
        </>
      }
    >
      {s.alarm && (
        <p class="alarm" role="alert">
          {s.alarm}
        </p>
      )}
      <section class="outbox">
        <p class="outbox-figure">
          <span class="figure">{held}</span>
        </p>
        <div>
          <p class="outbox-words">
            {held === 0 ? (w.attention ? 'Nothing else waits here.' : 'Everything on this phone has been received by the server.') : `${capital(load(w))} ${held === 1 ? 'waits' : 'wait'} here. Safe on this phone.`}
          </p>
          <p>{s.reached ? `Server last reached ${clockTime(s.reached)}.` : 'The server has not been reached from this phone yet.'}</p>
          {s.why && <p class="outbox-why">{s.why}</p>}
          {s.shutDoor && <LetIn />}
          {s.progress && (
            <p role="status" class="figure small">
              {s.progress}
            </p>
          )}
          {s.clock && <p class="caution">{s.clock}</p>}
        </div>
      </section>
      {update.value.ready && (
        <section class="update">
          <p>{update.value.words}</p>
          <button type="button" disabled={!update.value.allowed} onClick={() => server.updateNow()}>
            Bring the app up to date
          </button>
        </section>
      )}
      <Shelf />
      {held > 0 && (
        <section>
          <h2>Take it out another way</h2>
          <p class="small soft">One file with every record and picture that waits here, signed as it is. It stays here too.</p>
          <button type="button" class="wide" onClick={() => void takeOut('unsent', setTold)}>
            Put what waits into a file
          </button>
        </section>
      )}
      <RoomLeft onTold={setTold} />
      <Told words={told} />
    </Screen>
  )
}

/** A phone that a restored server does not know is let in again, with the records and the number it has. */
function LetIn() {
  const server = useServer()
  const [code, setCode] = useState('')
  const [wrong, setWrong] = useState('')
  const knock = async () => {
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
      <Field label="Fresh code from the office" value={code} onValue={setCode} figures wrong={wrong} />
      <button type="button" class="wide" disabled={!code.trim()} onClick={() => void knock()}>
        Let this phone in again
      </button>
    </div>
  )
}

async function takeOut(which: 'unsent' | 'attention', say: (words: string) => void) {
  try {
    const stamp = new Date().toISOString().slice(0, 16).replace(/[:T]/g, '-')
    handOver(await exportFile(which), `${which === 'unsent' ? 'waiting' : 'needs-attention'}-${stamp}.zip`)
    say('The file is in the downloads of this phone.')
  } catch (fault) {
    say(sentence(fault))
  }
}

/** What the server refused: kept, with the reason, until a person has dealt with it. */
function Shelf() {
  const server = useServer()
  const [told, setTold] = useState('')
  const rows = useAsked<ShelfRow[]>([], shelf, [])
  if (rows.length === 0) return null
  return (
    <section class="shelf">
      <h2>Needs attention</h2>
      <p class="small">The server did not take these. They are kept here until somebody has looked.</p>
      <ul>
        {rows.map((row) => (
          <li key={row.key}>
            <Refused row={row} />
            {row.settled ? (
              <p class="small">It stays refused, and the server's log says so. Put it right by entering it anew.</p>
            ) : (
              <button type="button" onClick={() => void server.tryAgain(row.key)}>
                Offer it again
              </button>
            )}
          </li>
        ))}
      </ul>
      <button type="button" class="wide" onClick={() => void takeOut('attention', setTold)}>
        Put these into a file
      </button>
      <Told words={told} />
    </section>
  )
}

function Refused({ row }: { row: ShelfRow }) {
  const found = useAsked<Row | null>(null, () => (row.sort === 'entry' ? record(row.id) : Promise.resolve(null)), [row.id])
  const name = found ? line(found.entry as never, null as never).title : row.sort === 'media' ? 'A picture or recording in full' : 'A small picture'
  return (
    <p>
      <strong>{name}</strong>
      <span class="shelf-why">{row.message}</span>
      <span class="small soft">refused {clockTime(row.since)}</span>
    </p>
  )
}

function RoomLeft({ onTold }: { onTold: (words: string) => void }) {
  const r = room.value
  const free = async () => {
    const { freed, bytes } = await freeOriginals()
    onTold(freed ? `${freed} in full freed, ${size(bytes)}. Their small pictures stay.` : 'Nothing may be freed yet by the rule above.')
  }
  return (
    <section>
      <h2>Room left</h2>
      <p class={r.tight ? 'caution' : ''}>{r.words || 'The room left is being asked for.'}</p>
      {!matchMedia('(display-mode: standalone)').matches && (
        <p class="small">
          Open in a browser tab. Some browsers clear what a tab keeps after a week without use: put the app on the home screen.
        </p>
      )}
      {r.quota > 0 && (
        <svg class="room-bar" viewBox="0 0 300 14" role="img" aria-label={`${Math.round((r.used / r.quota) * 100)} per cent used`}>
          <rect x="0.5" y="0.5" width="299" height="13" />
          <rect class="used" x="0.5" y="0.5" width={Math.max(1, (r.used / r.quota) * 299)} height="13" />
        </svg>
      )}
      <p class="small soft">{ROOM_RULE}</p>
      <div class="pair">
        <button type="button" onClick={() => void free()}>
          Free pictures in full
        </button>
        {!r.persisted && (
          <button type="button" onClick={() => void keepForGood().then((kept) => onTold(kept ? 'The browser keeps it for good.' : 'The browser does not promise it. Put the app on the home screen, and send often.'))}>
            Ask to keep for good
          </button>
        )}
      </div>
    </section>
  )
}
