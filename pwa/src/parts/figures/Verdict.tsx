import type { ComponentChildren } from 'preact'

export type Standing = 'within' | 'outside' | 'not proven' | 'no limit'

const WORDS: Record<Standing, string> = {
  within: 'within limits',
  outside: 'outside limits',
  'not proven': 'not proven',
  'no limit': 'no limit set',
}

/** A verdict in words and a form of its own, never by colour alone; `children` says by how much, or what would settle it. */
export function Verdict({ standing, children }: { standing: Standing; children?: ComponentChildren }) {
  return (
    <span class="verdict">
      <span class={`verdict-tag is-${standing.replace(' ', '-')}`}>{WORDS[standing]}</span>
      {children && <span class="verdict-words">{children}</span>}
    </span>
  )
}
