import { people } from '../../store/index.ts'
import type { Entry } from '../../trade/ground/entry.ts'
import { say } from './say.ts'

/** A person by name, as this phone knows the people of the workshop. */
export function nameOf(id: string): string {
  return people.value.find((person) => person.id === id)?.name ?? say('people.unknown')
}

/** Who made an entry. What the server writes without a person, such as a machine transcript, has its device as its author. */
export function authorOf({ author, device }: Pick<Entry, 'author' | 'device'>): string {
  return author === device ? say('people.office_desk') : nameOf(author)
}
