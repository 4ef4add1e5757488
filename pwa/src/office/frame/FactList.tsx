/** The name and value of a fact; 'late' for one that stands out. */
export type Fact = [name: string, value: string, mark?: 'late' | undefined]

/** What is known of one thing, a line a fact; empty facts are left out. */
export function FactList({ facts }: { facts: Fact[] }) {
  return (
    <dl class="facts facts-wide">
      {facts
        .filter(([, value]) => value)
        .map(([name, value, mark]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd class={`lines-kept${mark ? ' caution is-late' : ''}`}>{value}</dd>
          </div>
        ))}
    </dl>
  )
}
