import type { ComponentChildren } from 'preact'
import { print } from './words.ts'
import { dayAndClock, figure, shortClock } from './words.ts'
import { head, me } from './session.ts'

export interface StripCell {
  name: string
  value: ComponentChildren
  /** On a narrow sheet: 'wide' takes the room there is, 'spare' and then 'last' are left out. */
  stand?: 'wide' | 'spare' | 'last'
}

/** The title block along the foot of every sheet (ISO 7200's habit): what this sheet is of, and the last head. */
export function Strip({ cells }: { cells: StripCell[] }) {
  return (
    <footer class="strip">
      <dl>
        {cells.map((cell) => (
          <div key={cell.name} class={cell.stand && `strip-${cell.stand}`}>
            <dt>{cell.name}</dt>
            <dd>{cell.value}</dd>
          </div>
        ))}
        <div class="strip-head">
          <dt>last head</dt>
          <dd>
            <LastHead />
          </dd>
        </div>
      </dl>
    </footer>
  )
}

function LastHead() {
  const last = head.value
  if (!last) return <>none signed yet</>
  const today = new Date().toDateString() === new Date(last.time).toDateString()
  const when = today ? shortClock(localTime(last.time)) : dayAndClock(last.time)
  return (
    <a href="#/about" title={`${dayAndClock(last.time)}. How to check it: About`}>
      <span class="figure">
        #{figure(last.size)} · {print(last.root).split(' ').slice(0, 2).join(' ')} · {when}
      </span>
    </a>
  )
}

function localTime(stamp: string): string {
  const at = new Date(stamp)
  const pad = (n: number) => String(n).padStart(2, '0')
  return `${at.getFullYear()}-${pad(at.getMonth() + 1)}-${pad(at.getDate())}T${pad(at.getHours())}:${pad(at.getMinutes())}:00Z`
}

/** What the strip says on sheets that belong to no job. */
export function officeCells(sheet: string): StripCell[] {
  return [
    { name: 'workshop', value: <b>{me.value?.workshop.name}</b>, stand: 'wide' },
    { name: 'sheet', value: sheet, stand: 'spare' },
    { name: 'by', value: `${me.value?.person.name}, ${me.value?.person.role}`, stand: 'spare' },
    { name: 'records', value: figure(head.value?.size ?? 0) },
  ]
}
