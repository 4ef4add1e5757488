// One of the workshop's own words, and how it is put into the log.

import { tell } from '../frame/api.ts'
import { uuid7 } from '../../trade/ground/uuid7.ts'

export interface Word {
  word: string
  sounds_like: string[]
  means: string
  retired: boolean
}

/** Records a word of the workshop; throws Trouble. */
export function saveWord({ word, sounds_like, means, retired }: Word): Promise<unknown> {
  const body = { word, sounds_like, means, retired }
  return tell('/api/desk/entries', { id: uuid7(), job: null, kind: 'spoken_word_set', location: null, body, media: [] })
}
