import { say } from './say.ts'
/** Offers bytes that could not be saved here as files, so that they leave the phone another way. */
export function TakeOut({ files }: { files: { name: string; blob: Blob }[] }) {
  if (files.length === 0) return null
  return (
    <p>
      {files.map((file) => (
        <button class="whole above-4" key={file.name} type="button" onClick={() => handOver(file.blob, file.name)}>
          {say('take_out.download', { file: file.name })}
        </button>
      ))}
    </p>
  )
}

/** Hands a file to the phone's own downloads. */
export function handOver(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob)
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), 60_000)
}
