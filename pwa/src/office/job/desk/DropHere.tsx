import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { say } from '../../frame/say.ts'

/** Takes files that are dropped anywhere on the page; while they hover over it, the page says so. */
export function DropHere({ take, children }: { take: (files: File[]) => void; children: ComponentChildren }) {
  const [over, setOver] = useState(false)
  const holdsFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false
  return (
    <div
      class="drop"
      onDragOver={(event) => {
        if (!holdsFiles(event)) return
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={(event) => event.currentTarget.contains(event.relatedTarget as Node | null) || setOver(false)}
      onDrop={(event) => {
        if (!holdsFiles(event)) return
        event.preventDefault()
        setOver(false)
        take([...(event.dataTransfer?.files ?? [])])
      }}
    >
      {children}
      {over && <p class="drop-say centred bold laid-over large to-middle">{say('desk.drop_here')}</p>}
    </div>
  )
}
