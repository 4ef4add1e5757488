import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'

/** Files let go anywhere over the sheet are taken in; while they hover, the sheet says so. */
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
      {over && (
        <p class="drop-say">
          Let go to add to this job. You give each its title and place next; nothing is sent before that.
        </p>
      )}
    </div>
  )
}
