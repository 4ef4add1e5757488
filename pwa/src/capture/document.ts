// A paper or a file that belongs to a job: saved as it came, whatever it is.
import { capture, type Saved } from './entry.ts'
import { copyOf, nameOf } from './photo.ts'
import { locationOf, type Where } from './where.ts'

export async function addDocument(at: Where, file: File, title: string, remark = ''): Promise<Saved> {
  const bytes = await copyOf(file)
  const type = file.type || 'application/octet-stream'
  const files = [{ bytes, type, role: 'document', name: nameOf(file) }] as const
  return capture({ kind: 'document_added', job: at.job, location: locationOf(at), body: { title, remark }, files: [...files] })
}
