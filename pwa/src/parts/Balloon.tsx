/** An item balloon (the idea is ISO 6433's): the exhibit's number in a circle. Solid when it is the one in hand. */
export function Balloon({ number, solid, small }: { number: number | string; solid?: boolean; small?: boolean }) {
  const wide = String(number).length > 3
  return <span class={`balloon${solid ? ' is-solid' : ''}${small ? ' is-small' : ''}${wide ? ' is-wide' : ''}`}>{number}</span>
}
