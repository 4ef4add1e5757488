import { useEffect, useState } from 'preact/hooks'
import { EmptyNotice, FaultNotice } from '../frame/notices.tsx'
import { PageHead } from '../frame/PageHead.tsx'
import { useGet } from '../frame/useGet.ts'
import { say } from '../frame/say.ts'
import { isManager } from '../frame/session.ts'
import type { Phone } from '../frame/shapes.ts'
import { dayAndClock, offsetWords, span } from '../frame/words.ts'
import { arrivalWords } from './arrival.ts'
import { BlockSheet } from './BlockSheet.tsx'
import { InviteSheet } from './InviteSheet.tsx'

const REFRESH_MS = 5000

/** The phones of the workshop: when each was last seen, and whether all it recorded has arrived. */
export function Phones() {
  const { data, error, reload } = useGet<{ phones: Phone[] }>('/api/phones')
  const [inviting, setInviting] = useState(false)
  const [blocking, setBlocking] = useState<Phone | null>(null)
  useEffect(() => {
    const timer = setInterval(() => document.visibilityState === 'visible' && reload(), REFRESH_MS)
    return () => clearInterval(timer)
  }, [])
  const phones = data?.phones ?? []
  const close = () => {
    setInviting(false)
    setBlocking(null)
    reload()
  }
  const add = (
    <button type="button" class="main-act" onClick={() => setInviting(true)}>
      {say('phones.add')}
    </button>
  )
  return (
    <section class="page phones-page" aria-labelledby="phones-title">
      <PageHead id="phones-title" title={say('phones.title')} acts={isManager.value && add} />
      <FaultNotice>{error?.message}</FaultNotice>
      {data && phones.length === 0 && <EmptyNotice>{isManager.value ? say('phones.none_yet') : say('phones.none_yet_ask_manager')}</EmptyNotice>}
      <ul class="phones ruled thick-over">
        {phones.map((phone) => (
          <PhoneLine key={phone.id} phone={phone} block={() => setBlocking(phone)} />
        ))}
      </ul>
      {inviting && <InviteSheet joined={phones.length} close={close} />}
      {blocking && <BlockSheet phone={blocking} close={close} />}
    </section>
  )
}

function PhoneLine({ phone, block }: { phone: Phone; block: () => void }) {
  const { letter, name, revoked, enrolled, last_seen } = phone
  const behind = phone.announced > phone.received
  return (
    <li class={revoked ? 'is-shut' : ''}>
      <span class="phone-letter centred bold headline framed" aria-hidden="true">
        {letter}
      </span>
      <div>
        <h2>
          <span class="unseen">{say('phones.phone', { letter })}, </span>
          {name}
          {revoked && <span class="phone-shut small">{say('phones.blocked')}</span>}
        </h2>
        <p>
          {last_seen ? say('phones.last_seen', { when: ago(last_seen) }) : say('phones.never_seen')}{' '}
          {say('phones.joined', { when: dayAndClock(enrolled) })}
        </p>
        <p class={behind ? 'caution' : undefined}>{arrivalWords(phone)}</p>
        <p class="soft">{offsetWords(phone.clock_offset_ms, say('phones.its_clock'))}</p>
        {revoked && <p>{blockedWords(revoked, phone.revoked_reason)}</p>}
      </div>
      {!revoked && isManager.value && (
        <button type="button" onClick={block} aria-label={say('phones.block_phone', { letter, name })}>
          {say('phones.block')}
        </button>
      )}
    </li>
  )
}

function blockedWords(stamp: string, reason: string): string {
  const when = dayAndClock(stamp)
  return reason ? say('phones.blocked_on_because', { when, reason }) : say('phones.blocked_on', { when })
}

const DAY_MS = 24 * 3_600_000

/** "12 min ago, 14 May, 10:38"; the day alone from yesterday on. */
function ago(stamp: string): string {
  const ms = Date.now() - Date.parse(stamp)
  return ms < DAY_MS ? say('phones.ago', { time: span(Math.max(0, ms)), when: dayAndClock(stamp) }) : dayAndClock(stamp)
}
