import type { ComponentChildren } from 'preact'
import { print } from './words.ts'
import { dayAndClock, figure, shortClock } from './words.ts'
import { say } from './say.ts'
import { head, me } from './session.ts'

export interface StripCell {
  name: string
  value: ComponentChildren
  /** On a narrow screen: 'wide' takes the room there is, 'spare' and then 'last' are left out. */
  stand?: 'wide' | 'spare' | 'last'
}

/** The title block along the foot of every page (as in ISO 7200): what this page is of, and the latest log fingerprint. */
export function Strip({ cells }: { cells: StripCell[] }) {
  return (
    <footer class="strip thick-over">
      <dl>
        {cells.map((cell) => (
          <div key={cell.name} class={cell.stand && `strip-${cell.stand}`}>
            <dt class="soft tiny">{cell.name}</dt>
            <dd class="one-line">{cell.value}</dd>
          </div>
        ))}
        <div class="strip-head">
          <dt class="soft tiny">{say('frame.log_fingerprint')}</dt>
          <dd class="one-line">
            <LastHead />
          </dd>
        </div>
      </dl>
    </footer>
  )
}

function LastHead() {
  const last = head.value
  if (!last) return <>{say('frame.none_signed')}</>
  const today = new Date().toDateString() === new Date(last.time).toDateString()
  const when = today ? shortClock(localTime(last.time)) : dayAndClock(last.time)
  return (
    <a href="#/about" title={say('frame.fingerprint_title', { when: dayAndClock(last.time) })}>
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

/** The cells of a page that belongs to no job. */
export function officeCells(page: string): StripCell[] {
  const person = me.value?.person
  const role = person?.role === 'manager' ? say('people.manager') : say('people.technician')
  return [
    { name: say('frame.cell_workshop'), value: <b>{me.value?.workshop.name}</b>, stand: 'wide' },
    { name: say('frame.cell_page'), value: page, stand: 'spare' },
    { name: say('frame.cell_by'), value: person && say('frame.name_and_role', { name: person.name, role }), stand: 'spare' },
    { name: say('frame.cell_records'), value: figure(head.value?.size ?? 0) },
  ]
}
