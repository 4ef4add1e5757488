import { useState } from 'preact/hooks'
import { type Row, type ShelfRow, record, shelf } from '../../store/index.ts'
import { line } from '../../trade/record/lines.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { say } from '../frame/say.ts'
import { useServer } from '../frame/server.ts'
import { useStored } from '../frame/useStored.ts'
import { clockTime } from '../frame/words.ts'

/** What the server refused: held here, with the reason, until a person has dealt with it. */
export function Refusals({ onTakeOut }: { onTakeOut: (onDone: (words: string) => void) => void }) {
  const server = useServer()
  const [message, setMessage] = useState('')
  const rows = useStored<ShelfRow[]>([], shelf, [])
  if (rows.length === 0) return null
  return (
    <section class="shelf">
      <h2>{say('phone.attention')}</h2>
      <p class="small">{say('phone.attention_about')}</p>
      <ul>
        {rows.map((row) => (
          <li key={row.key}>
            <Refused row={row} />
            {row.settled ? (
              <p class="small">{say('phone.stays_refused')}</p>
            ) : (
              <button type="button" onClick={() => void server.tryAgain(row.key)}>
                {say('phone.send_again')}
              </button>
            )}
          </li>
        ))}
      </ul>
      <button type="button" class="wide" onClick={() => onTakeOut(setMessage)}>
        {say('phone.save_refused')}
      </button>
      <StatusMessage words={message} />
    </section>
  )
}

function Refused({ row }: { row: ShelfRow }) {
  const refused = useStored<Row | null>(null, () => (row.sort === 'entry' ? record(row.id) : Promise.resolve(null)), [row.id])
  const file = row.sort === 'media' ? say('phone.refused_original') : say('phone.refused_preview')
  return (
    <p>
      <strong>{refused ? line(refused.entry as never, null as never).title : file}</strong>
      <span class="shelf-why">{row.message}</span>
      <span class="small soft">{say('phone.refused_at', { time: clockTime(row.since) })}</span>
    </p>
  )
}
