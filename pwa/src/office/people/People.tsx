import { useState } from 'preact/hooks'
import { FaultNotice } from '../frame/notices.tsx'
import { PageHead } from '../frame/PageHead.tsx'
import { useGet } from '../frame/useGet.ts'
import { say } from '../frame/say.ts'
import type { Person } from '../frame/shapes.ts'
import { PersonSheet } from './PersonSheet.tsx'
import './people.css'

/** Who works here: names, what they may do, and how they sign in. */
export function People() {
  const { data, error, reload } = useGet<{ people: Person[] }>('/api/people')
  const [open, setOpen] = useState<Person | 'new' | null>(null)
  const close = () => {
    setOpen(null)
    reload()
  }
  const add = (
    <button type="button" class="main-act" onClick={() => setOpen('new')}>
      {say('people.add')}
    </button>
  )
  return (
    <section class="page people-page" aria-labelledby="people-title">
      <PageHead id="people-title" title={say('people.title')} acts={add} />
      <p class="page-words">{say('people.intro')}</p>
      <FaultNotice>{error?.message}</FaultNotice>
      <ul class="people ruled thick-over">
        {data?.people.map((person) => (
          <PersonLine key={person.id} person={person} change={() => setOpen(person)} />
        ))}
      </ul>
      {open && <PersonSheet person={open === 'new' ? null : open} close={close} />}
    </section>
  )
}

function PersonLine({ person, change }: { person: Person; change: () => void }) {
  return (
    <li class={person.active === false ? 'is-away' : ''}>
      <b>{person.name}</b>
      <span>{person.role === 'manager' ? say('people.manager') : say('people.technician')}</span>
      <span class="soft">{signInWords(person)}</span>
      <button type="button" onClick={change} aria-label={say('people.change', { name: person.name })}>
        {say('common.change')}
      </button>
    </li>
  )
}

/** How a person can sign in. */
function signInWords({ active, has_password, has_pin }: Person): string {
  if (active === false) return say('people.no_longer_here')
  const ways = [has_password && say('people.by_password'), has_pin && say('people.by_pin')].filter(Boolean)
  if (ways.length) return ways.join(', ')
  return has_pin === false ? say('people.cannot_sign_in') : ''
}
