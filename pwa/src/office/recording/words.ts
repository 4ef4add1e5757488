// Whose words those of a recording are.

import type { HeardWord } from './timed_words.ts'
import { nameOf } from '../frame/words.ts'
import type { Note } from '../frame/shapes.ts'
import { say } from '../frame/say.ts'

/** How far the recognisers agree; '' where there is nothing to compare. */
export function standingWords(note: Note): string {
  const machines = note.results.filter(({ text }) => text).length
  if (note.state === 'agree' && machines > 1) return say('spoken.heard_the_same', { count: machines })
  if (note.state === 'differ') return say('spoken.differ')
  return ''
}

/** The words with their times for the text in force: those of the recogniser it came from, else of any that has some. */
export function wordsFor(note: Note): readonly HeardWord[] {
  if (note.words?.length) return note.words
  const from = note.results.find(({ engine, words }) => engine === note.engine && words?.length)
  return (from ?? note.results.find(({ words }) => words?.length))?.words ?? []
}

/** Who transcribed it, in short, after the length of a recording. */
export function by(note: Note): string {
  if (note.state === 'waiting') return say('spoken.by_nobody_yet')
  if (note.state === 'nothing') return say('spoken.by_nothing')
  if (note.state === 'undecodable') return say('spoken.by_undecodable')
  if (note.state === 'confirmed') return note.confirmed ? say('spoken.confirmed_by', { name: nameOf(note.confirmed.author) }) : say('spoken.confirmed')
  return say('spoken.machine_transcript')
}
