import { Fragment } from 'preact'
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'
import type { Item } from '../../frame/shapes.ts'
import { count, day, gap, moment } from '../../frame/words.ts'
import { Line } from './Line.tsx'
import { chosen, fresh, held, jump, loading, more, narrowed, recordTrouble, turn } from './state.ts'

const NEAR_END_PX = 500

/** The record as exhibits on a line, in the order they reached the server; pages are fetched as the reader nears an end. */
export function Timeline({ open }: { open: (item: Item) => void }) {
  const scroller = useRef<HTMLDivElement>(null)
  const anchor = useRef<{ exhibit: string; top: number } | null>(null)
  const record = held.value
  const now = chosen.value

  // Pages added or dropped above must not move what is being read: the first line in sight is put back where it stood.
  const remember = () => {
    const box = scroller.current
    const top = box?.getBoundingClientRect().top ?? 0
    const first = [...(box?.querySelectorAll<HTMLElement>('[data-exhibit]') ?? [])].find(
      (line) => line.getBoundingClientRect().bottom > top,
    )
    anchor.current = first ? { exhibit: first.dataset['exhibit']!, top: first.getBoundingClientRect().top } : null
  }
  const near = () => {
    const box = scroller.current
    if (!box) return
    remember()
    const below = box.scrollHeight - box.scrollTop - box.clientHeight
    if (below < 40) fresh.value = 0
    if (box.scrollTop < NEAR_END_PX) void more('earlier')
    else if (below < NEAR_END_PX) void more('later')
  }
  useLayoutEffect(() => {
    const box = scroller.current
    const kept = anchor.current
    const line = kept && box?.querySelector(`[data-exhibit="${kept.exhibit}"]`)
    if (box && kept && line) box.scrollTop += line.getBoundingClientRect().top - kept.top
  }, [record.items])
  useLayoutEffect(() => {
    bring(scroller.current, chosen.peek(), 'center')
    remember()
  }, [turn.value])
  useEffect(() => {
    bring(scroller.current, now, 'nearest')
    remember()
    // Whoever steps by keys from a line takes the focus along.
    const focused = document.activeElement
    if (now && focused?.matches('.line-open')) {
      scroller.current
        ?.querySelector<HTMLElement>(`[data-exhibit="${now.exhibit}"] .line-open`)
        ?.focus({ preventScroll: true })
    }
  }, [now?.id])

  const toLatest = () => {
    fresh.value = 0
    if (record.next !== null) void jump('last')
    else scroller.current?.scrollTo({ top: scroller.current.scrollHeight })
  }
  return (
    <div class="timeline-pane">
      <div class="timeline" ref={scroller} onScroll={near}>
        {record.previous !== null && (
          <button type="button" class="more" onClick={() => more('earlier')}>
            {loading.value === 'earlier' ? 'Fetching earlier records' : 'Earlier records'}
          </button>
        )}
        <ol class="lines" aria-label="Timeline">
          {record.items.map((item, index) => (
            <Fragment key={item.id}>
              <Between before={record.items[index - 1]} item={item} />
              <Line item={item} chosen={item.id === now?.id} open={() => open(item)} />
            </Fragment>
          ))}
        </ol>
        {record.next !== null && (
          <button type="button" class="more" onClick={() => more('later')}>
            {loading.value === 'later' ? 'Fetching later records' : 'Later records'}
          </button>
        )}
        <Nothing />
      </div>
      <div role="status" class="fresh-slot">
        {fresh.value > 0 && (
          <button type="button" class="fresh" onClick={toLatest}>
            {count(fresh.value, 'new record')} below
          </button>
        )}
      </div>
    </div>
  )
}

function bring(box: HTMLElement | null, item: Item | null, block: ScrollLogicalPosition): void {
  if (item) box?.querySelector(`[data-exhibit="${item.exhibit}"]`)?.scrollIntoView({ block })
}

function Nothing() {
  if (recordTrouble.value) {
    return (
      <p class="fault" role="alert">
        {recordTrouble.value}
      </p>
    )
  }
  if (held.value.items.length || loading.value === 'page' || turn.value === 0) return null
  if (narrowed.value) return <p class="empty">No record of this job meets all of these. Take one filter off.</p>
  return (
    <p class="empty">
      Nothing recorded yet. Records made on a phone appear here as they arrive; from the desk, press a.
    </p>
  )
}

/** The day, when it changes, and the time that passed, when it is worth saying. */
function Between({ before, item }: { before: Item | undefined; item: Item }) {
  const changed =
    !before ||
    moment(before.claimed)?.date !== moment(item.claimed)?.date ||
    before.claimed.slice(0, 7) !== item.claimed.slice(0, 7)
  const passed = before ? gap(before.claimed, item.claimed) : ''
  return (
    <>
      {passed && <li class={`gap${passed.startsWith('claimed') ? ' gap-back' : ''}`}>{passed}</li>}
      {changed && (
        <li class="day">
          <h2>{day(item.claimed)}</h2>
        </li>
      )}
    </>
  )
}
