// Whose words those of a recording are.

import type { HeardWord } from '../../trade/spoken/timed_words.ts'
import { nameOf, count } from '../frame/words.ts'
import type { Note } from '../frame/shapes.ts'

/** Who stands behind the words, before a name and a time are put to it. */
export function standingWords(note: Note): string {
  const machines = note.results.filter(({ text }) => text).length
  if (note.state === 'agree' && machines > 1) return `${count(machines, 'recogniser')} heard the same`
  if (note.state === 'differ') return 'the recognisers differ'
  return ''
}

/** The words with their times that the standing text is laid over: those of the recogniser it came from, else any that has some. */
export function wordsFor(note: Note): readonly HeardWord[] {
  if (note.words?.length) return note.words
  const from = note.results.find(({ engine, words }) => engine === note.engine && words?.length)
  return (from ?? note.results.find(({ words }) => words?.length))?.words ?? []
}

/** Whose words they are, short, behind the length of a recording. */
export function by(note: Note): string {
  if (note.state === 'waiting') return 'not transcribed yet'
  if (note.state === 'nothing') return 'nothing understood'
  if (note.state === 'undecodable') return 'cannot be transcribed'
  if (note.state === 'confirmed') return note.confirmed ? `confirmed by ${nameOf(note.confirmed.author)}` : 'confirmed'
  return 'machine transcript'
}
