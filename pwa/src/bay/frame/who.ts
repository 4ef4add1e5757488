import { people } from '../../store/index.ts'
import type { Entry } from '../../trade/ground/entry.ts'

/** A person by name, as this phone knows the people of the workshop. */
export function nameOf(id: string): string {
  return people.value.find((one) => one.id === id)?.name ?? 'someone'
}

/** Who made an entry. What the office writes by itself, a machine transcript, no person has made: its author is its device. */
export function authorOf({ author, device }: Pick<Entry, 'author' | 'device'>): string {
  return author === device ? 'the office desk' : nameOf(author)
}
