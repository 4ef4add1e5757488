import type { ComponentChildren } from 'preact'
import { say } from '../words/say.ts'
import './verdict.css'

export type Standing = 'within' | 'outside' | 'not proven' | 'no limit'

const WORDS = { within: 'verdict.within', outside: 'verdict.outside', 'not proven': 'verdict.not_proven', 'no limit': 'verdict.no_limit' } as const

/** A verdict in words and a form of its own, never by colour alone; `children` gives by how much, or what would settle it. */
export function Verdict({ standing, children }: { standing: Standing; children?: ComponentChildren }) {
  return (
    <span class="verdict wrapped">
      <span class={`keeps one-line framed verdict-tag small bold is-${standing.replace(' ', '-')}`}>{say(WORDS[standing])}</span>
      {children && <span class="verdict-words">{children}</span>}
    </span>
  )
}
