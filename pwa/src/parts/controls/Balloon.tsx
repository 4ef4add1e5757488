import type { ComponentChildren } from 'preact'
import './signs.css'

/** An item balloon (the idea is ISO 6433's): the exhibit's number, or a sign, in a circle. Solid when it is the one in hand. */
export function Balloon({ number, solid, small }: { number: ComponentChildren; solid?: boolean; small?: boolean }) {
  const wide = (typeof number === 'number' || typeof number === 'string') && String(number).length > 3
  return <span class={`bold keeps framed balloon${solid ? ' is-solid' : ''}${small ? ' is-small' : ''}${wide ? ' is-wide' : ''}`}>{number}</span>
}
