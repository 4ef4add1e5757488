import { say } from '../frame/say.ts'
import type { Phone } from '../frame/shapes.ts'

/** What the phone announced against what is here, in words. */
export function arrivalWords({ announced, received }: Pick<Phone, 'announced' | 'received'>): string {
  if (!announced && !received) return say('phones.nothing_recorded')
  if (announced <= received) return say('phones.all_here', { count: received })
  return say('phones.still_on_it', { count: announced, received, missing: announced - received })
}
