import { where } from '../../capture/index.ts'
import { type Source, cancelled, register, taken } from './pictures.ts'
import { say } from '../frame/say.ts'


/** The two doors through which the phone hands over pictures. Always there, so that the camera opens from any screen. */
export function PictureInputs() {
  return (
    <div class="unseen" aria-hidden="true">
      <Door source="camera" />
      <Door source="gallery" />
    </div>
  )
}

function Door({ source }: { source: Source }) {
  return (
    <input
      ref={register(source)}
      type="file"
      accept="image/*"
      capture={source === 'camera' ? 'environment' : undefined}
      multiple={source === 'gallery'}
      tabIndex={-1}
      aria-label={source === 'camera' ? say('camera.input') : say('camera.gallery_input')}
      data-door={source}
      onCancel={cancelled}
      onChange={(event) => {
        const files = [...(event.currentTarget.files ?? [])]
        const at = where.value
        if (files.length && at) void taken(files, source, at)
        // The same picture may be chosen again.
        event.currentTarget.value = ''
      }}
    />
  )
}
