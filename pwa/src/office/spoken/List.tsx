import { useEffect, useRef } from 'preact/hooks'
import { Balloon } from '../../parts/controls/Balloon.tsx'
import { dayAndClock, playingTime } from '../frame/words.ts'
import { QueryMark } from '../recording/Stamp.tsx'
import type { SpokenItem } from './shapes.ts'
import { GROUPS, groupOf } from './words.ts'
import { say } from '../frame/say.ts'

interface Props {
  items: SpokenItem[]
  chosen: string
  open: (item: SpokenItem) => void
}

/** The spoken notes by group: under each heading the newest first. */
export function List({ items, chosen, open }: Props) {
  const list = useRef<HTMLDivElement>(null)
  useEffect(() => {
    list.current?.querySelector('[aria-current="true"]')?.scrollIntoView({ block: 'nearest' })
  }, [chosen])
  return (
    <div class="slips" ref={list}>
      {GROUPS.map(([group, words]) => {
        const members = items.filter(({ spoken }) => groupOf(spoken) === group)
        return members.length === 0 ? null : (
          <section key={group} aria-label={words}>
            <h2 class="hair-under body-size">{words}</h2>
            <ol>
              {members.map((item) => (
                <li key={item.id}>
                  <button class="flat whole in-grid ring-inside" type="button" aria-current={item.id === chosen ? 'true' : undefined} onClick={() => open(item)}>
                    <Balloon number={item.exhibit} small solid={item.id === chosen} />
                    <span class="slip-line">
                      {group === 'queries' && <QueryMark />}
                      <span class="slip-text two-lines breaks">{textOf(item)}</span>
                      <span class="slip-of own-line soft small">
                        {[item.job?.number, item.place_name, item.author.name, dayAndClock(item.claimed), lengthOf(item)].filter(Boolean).join(' · ')}
                      </span>
                    </span>
                  </button>
                </li>
              ))}
            </ol>
          </section>
        )
      })}
    </div>
  )
}

function textOf({ spoken, title }: SpokenItem): string {
  if (spoken.text) return `“${spoken.text}”`
  return spoken.state === 'nothing' ? say('spoken.nothing_understood') : title
}

function lengthOf(item: SpokenItem): string {
  const length = Number(item.body['duration_ms'] ?? 0)
  return length ? playingTime(length) : ''
}
