// One of the workshop's own words, and how it is put into the log.

import { uuid7 } from '../../trade/ground/uuid7.ts'
import { post } from '../frame/api.ts'
import type { Word } from './shapes.ts'

/** Records a word of the workshop; throws ApiError. */
export function saveWord({ word, sounds_like, means, retired }: Word): Promise<unknown> {
  const body = { word, sounds_like, means, retired }
  return post('/api/desk/entries', { id: uuid7(), job: null, kind: 'spoken_word_set', location: null, body, media: [] })
}
