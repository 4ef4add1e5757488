import type { ComponentChildren } from 'preact'

interface Props {
  id: string
  title: ComponentChildren
  /** What can be done with the whole page, at its right edge. */
  acts?: ComponentChildren
  children?: ComponentChildren
}

/** The head of a page that is read from top to bottom. */
export function PageHead({ id, title, acts, children }: Props) {
  return (
    <header class="page-head along wrapped">
      <h1 id={id}>{title}</h1>
      {children}
      {acts && <div class="page-acts wraps">{acts}</div>}
    </header>
  )
}
