import type { Item } from '../../frame/shapes.ts'
import { SLIGHT_MS, atOffset, day, moment, offsetWords, setRightWords, span } from '../../frame/words.ts'
import { say } from '../../frame/say.ts'
import './times.css'

/** The three times of a record side by side, never merged: by the phone, by the server, by an independent time stamp. */
export function Times({ item }: { item: Item }) {
  const offset = moment(item.claimed)?.offset ?? '+00:00'
  return (
    <>
      <dl class="times above-5">
        <Column name={say('record.phone_time')} by={item.device.name || say('record.this_device')} stamp={item.claimed} />
        <Column name={say('record.server_time')} by={say('record.when_received')} stamp={atOffset(item.received, offset)} />
        {item.attested ? (
          <Column name={say('record.independent_time')} by={say('record.by_authority')} stamp={atOffset(item.attested, offset)} />
        ) : (
          <div>
            <dt>{say('record.independent_time')}</dt>
            <dd>
              <span class="times-none own-line">{say('record.no_time_stamp')}</span>
              <span class="own-line soft tiny">{say('record.no_authority')}</span>
            </dd>
          </div>
        )}
      </dl>
      <p class="times-words soft small">
        {offsetWords(item.offset_ms, whose(item))}
        {item.offset_ms !== null && Math.abs(item.offset_ms) > SLIGHT_MS && ` ${setRightWords(item.claimed, item.offset_ms)}`}
        {item.late_s > 0 && ` ${say('record.received_after', { span: span(item.late_s * 1000) })}`} {say('record.order_by_server')}
      </p>
    </>
  )
}

function whose(item: Item): string {
  return item.device.name ? say('record.clock_of', { device: item.device.name }) : say('record.clock_of_device')
}

function Column({ name, by, stamp }: { name: string; by: string; stamp: string }) {
  const m = moment(stamp)
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <time dateTime={stamp}>
          <span class="figure larger">{m?.clock ?? stamp}</span> <span class="figure times-zone">{m?.offset}</span>
          <span class="times-day own-line">{m && day(stamp)}</span>
        </time>
        <span class="own-line soft tiny">{by}</span>
      </dd>
    </div>
  )
}
