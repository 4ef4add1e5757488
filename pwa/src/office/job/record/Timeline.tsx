import { Fragment } from 'preact'
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'
import type { Item } from '../../frame/shapes.ts'
import { day, gap, moment } from '../../frame/words.ts'
import { Line } from './Line.tsx'
import { chosen, fresh, held, jump, loading, more, filtered, recordTrouble, turn } from './state.ts'
import { say } from '../../frame/say.ts'
import './timeline.css'

const NEAR_END_PX = 500

/** The records of a job on a line, in the order they reached the server; pages are fetched as the reader nears an end. */
export function Timeline({ open }: { open: (item: Item) => void }) {
  const { scroller, onScroll, toLatest } = useSteadyScroll()
  const record = held.value
  return (
    <div class="timeline-pane">
      <div class="timeline" ref={scroller} onScroll={onScroll}>
        {record.previous !== null && (
          <button type="button" class="more" onClick={() => more('earlier')}>
            {loading.value === 'earlier' ? say('record.loading_earlier') : say('record.earlier')}
          </button>
        )}
        <ol class="lines" aria-label={say('record.timeline')}>
          {record.items.map((item, index) => (
            <Fragment key={item.id}>
              <Between before={record.items[index - 1]} item={item} />
              <Line item={item} chosen={item.id === chosen.value?.id} open={() => open(item)} />
            </Fragment>
          ))}
        </ol>
        {record.next !== null && (
          <button type="button" class="more" onClick={() => more('later')}>
            {loading.value === 'later' ? say('record.loading_later') : say('record.later')}
          </button>
        )}
        <Nothing />
      </div>
      <div role="status" class="fresh-slot">
        {fresh.value > 0 && (
          <button type="button" class="fresh" onClick={toLatest}>
            {say('record.new_below', { count: fresh.value })}
          </button>
        )}
      </div>
    </div>
  )
}

/** Scrolling of the timeline: what is being read stays where it stands, whatever is added or dropped above it. */
function useSteadyScroll() {
  const scroller = useRef<HTMLDivElement>(null)
  const anchor = useRef<{ exhibit: string; top: number } | null>(null)
  const now = chosen.value

  // The first line in sight is put back where it stood.
  const remember = () => {
    const box = scroller.current
    const top = box?.getBoundingClientRect().top ?? 0
    const first = [...(box?.querySelectorAll<HTMLElement>('[data-exhibit]') ?? [])].find(
      (line) => line.getBoundingClientRect().bottom > top,
    )
    anchor.current = first ? { exhibit: first.dataset['exhibit']!, top: first.getBoundingClientRect().top } : null
  }
  const onScroll = () => {
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
    const was = anchor.current
    const line = was && box?.querySelector(`[data-exhibit="${was.exhibit}"]`)
    if (box && was && line) box.scrollTop += line.getBoundingClientRect().top - was.top
  }, [held.value.items])
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
    if (held.value.next !== null) void jump('last')
    else scroller.current?.scrollTo({ top: scroller.current.scrollHeight })
  }
  return { scroller, onScroll, toLatest }
}

function bring(box: HTMLElement | null, item: Item | null, block: ScrollLogicalPosition): void {
  if (item) box?.querySelector(`[data-exhibit="${item.exhibit}"]`)?.scrollIntoView({ block })
}

function Nothing() {
  if (recordTrouble.value) {
    return (
      <p class="fault noted bold" role="alert">
        {recordTrouble.value}
      </p>
    )
  }
  if (held.value.items.length || loading.value === 'page' || turn.value === 0) return null
  if (filtered.value) return <p class="empty">{say('record.none_match')}</p>
  return <p class="empty">{say('record.none_yet')}</p>
}

/** The day, when it changes, and the time that passed, when it is worth saying. */
function Between({ before, item }: { before: Item | undefined; item: Item }) {
  const changed =
    !before ||
    moment(before.claimed)?.date !== moment(item.claimed)?.date ||
    before.claimed.slice(0, 7) !== item.claimed.slice(0, 7)
  const passed = before ? gap(before.claimed, item.claimed) : ''
  const back = before !== undefined && Date.parse(item.claimed) < Date.parse(before.claimed)
  return (
    <>
      {passed && <li class={`gap${back ? ' gap-back' : ''}`}>{passed}</li>}
      {changed && (
        <li class="day">
          <h2 class="one-line to-right">{day(item.claimed)}</h2>
        </li>
      )}
    </>
  )
}
