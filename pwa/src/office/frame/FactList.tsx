/** What is known of one thing, a line a fact; empty facts are left out, and one that begins with "overdue" stands out. */
export function FactList({ facts }: { facts: [name: string, value: string][] }) {
  return (
    <dl class="facts facts-wide">
      {facts
        .filter(([, value]) => value)
        .map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd class={`lines-kept${value.startsWith('overdue') ? ' caution is-late' : ''}`}>{value}</dd>
          </div>
        ))}
    </dl>
  )
}
