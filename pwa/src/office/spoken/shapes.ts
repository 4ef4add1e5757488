// What the server says of spoken notes, under the names the office has for it.

import type { Item, SpokenNote } from '../../wire/openapi.d.ts'

export type { OwnWord as Word, OwnWords as WordsShown, RecogniserState as Recogniser, SpokenTally as Tally } from '../../wire/openapi.d.ts'

/** A record that is a sound: something is known of what was said in it. */
export interface SpokenItem extends Item {
  spoken: SpokenNote
}
