import { Balloon } from '../../../parts/controls/Balloon.tsx'
import type { Item } from '../../frame/shapes.ts'
import { QueryMark } from '../../recording/Stamp.tsx'
import { by } from '../../recording/words.ts'
import { nameOf, playingTime, shortClock, span } from '../../frame/words.ts'
import { fieldLabel } from '../../../trade/record/fields.ts'
import { KINDS } from '../../../trade/record/kinds.ts'
import { changesOf, type Change } from './fields.ts'
import { placeName } from './places.ts'
import { Thumb } from '../../frame/Thumb.tsx'
import { say } from '../../frame/say.ts'

/** From here on a record is marked as having come in late. */
const LATE_FROM_S = 600

interface Props {
  item: Item
  chosen: boolean
  open: () => void
}

/** One record on the line: its time by the phone, its number, its words, and what later records say about it. */
export function Line({ item, chosen, open }: Props) {
  const changes = changesOf(item, placeName)
  return (
    <li class={`line${chosen ? ' is-chosen' : ''}${item.withdrawn ? ' is-withdrawn' : ''}`} data-exhibit={item.exhibit}>
      <time class="line-time figure soft to-right" dateTime={item.claimed}>
        {shortClock(item.claimed)}
      </time>
      <button type="button" class="line-open flat ring-inside" aria-current={chosen ? 'true' : undefined} onClick={open}>
        <Balloon number={item.exhibit} solid={chosen} />
        <span class="line-words own-line">
          <span class="line-title own-line bold">{titleOf(item)}</span>
          <Text item={item} />
          {changes.map((list, index) => (
            <Corrected key={item.corrected_by[index]!.id} changes={list} item={item} index={index} />
          ))}
          {item.withdrawn && (
            <span class="line-remark soft small own-line">
              {say('record.withdrawn_see', { number: String(item.withdrawn.exhibit), reason: item.withdrawn.reason })}
              {item.withdrawn.by && <i> {nameOf(item.withdrawn.by)}</i>}
            </span>
          )}
          {item.late_s >= LATE_FROM_S && (
            <span class="line-late soft small own-line">{say('record.late', { span: span(item.late_s * 1000) })}</span>
          )}
        </span>
        <Thumb item={item} />
      </button>
    </li>
  )
}

function titleOf(item: Item): string {
  if (item.kind === 'entry_corrected' && item.corrects) return say('record.corrects', { number: String(item.corrects.exhibit) })
  if (item.kind === 'entry_withdrawn' && item.corrects) return say('record.withdraws', { number: String(item.corrects.exhibit) })
  return item.title
}

function Text({ item }: { item: Item }) {
  const duration = KINDS[item.kind]?.view === 'sound' ? Number(item.body['duration_ms'] ?? 0) : 0
  if (!item.text && !duration) return null
  return (
    <span class="line-text">
      {item.text}
      {item.spoken?.text && <> “{item.spoken.text}”</>}
      {duration > 0 && (
        <span class="line-remark-inline soft small">
          {' '}
          {playingTime(duration)}, {item.spoken ? by(item.spoken) : say('record.recorded')}
        </span>
      )}
      {item.spoken?.query && <QueryMark />}
    </span>
  )
}

interface CorrectedProps {
  changes: Change[]
  item: Item
  index: number
}

/** What stood there, struck out; what stands there now; why; who. */
function Corrected({ changes, item, index }: CorrectedProps) {
  const correction = item.corrected_by[index]!
  return (
    <span class="line-corrected own-line">
      {changes.map((change) => (
        <span key={change.field}>
          {fieldLabel(item.kind, change.field)}: <del>{change.from}</del> <ins>{change.to}</ins>{' '}
        </span>
      ))}
      “{correction.reason}” <i>{nameOf(correction.by)}</i> {say('record.see', { number: String(correction.exhibit) })}
    </span>
  )
}
