import type { Item } from '../../frame/shapes.ts'
import { atOffset, day, moment, offsetWords, span } from '../../frame/words.ts'

/** The three times of a record side by side, never merged: the device's claim, the server's receipt, an outside attest. */
export function Times({ item }: { item: Item }) {
  const offset = moment(item.claimed)?.offset ?? '+00:00'
  return (
    <>
      <dl class="times">
        <Column name="claimed" by={`by ${item.device.name || 'the device'}`} stamp={item.claimed} />
        <Column name="received" by="by the server" stamp={atOffset(item.received, offset)} />
        {item.attested ? (
          <Column name="attested" by="by a time-stamp authority" stamp={atOffset(item.attested, offset)} />
        ) : (
          <div>
            <dt>attested</dt>
            <dd>
              <span class="times-none">not attested</span>
              <span class="times-by">no time-stamp authority is set up</span>
            </dd>
          </div>
        )}
      </dl>
      <p class="times-words">
        {offsetWords(item.offset_ms, whose(item))}
        {item.late_s > 0 && ` Received ${span(item.late_s * 1000)} after it was made, going by that.`} No claimed time
        decides anything.
      </p>
    </>
  )
}

function whose(item: Item): string {
  return item.device.name ? `The clock of ${item.device.name}` : "This device's clock"
}

function Column({ name, by, stamp }: { name: string; by: string; stamp: string }) {
  const m = moment(stamp)
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <time dateTime={stamp}>
          <span class="figure times-clock">{m?.clock ?? stamp}</span> <span class="figure times-zone">{m?.offset}</span>
          <span class="times-day">{m && day(stamp)}</span>
        </time>
        <span class="times-by">{by}</span>
      </dd>
    </div>
  )
}
