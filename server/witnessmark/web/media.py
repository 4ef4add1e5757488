"""/api/media: originals come in by the tus protocol (1.0.0, https://tus.io), and go out fenced in.

Two rules for what goes out. The type given to the browser is the one the server read from the bytes, from a short
list; anything else is only ever saved. And nothing that came from outside may run: no sniffing, no scripts, no frame.
"""

from __future__ import annotations

from base64 import b64decode
from email.utils import formatdate
from unicodedata import category
from urllib.parse import quote

from flask import Response, current_app, g, jsonify, request, send_file
from marshmallow import Schema, fields, validate
from werkzeug.wsgi import FileWrapper

from witnessmark.db import db, reading
from witnessmark.media import previews, store, uploads
from witnessmark.media.errors import MediaRefusal, OriginalMissing
from witnessmark.media.hashing import CHECKSUMS, parse_checksum
from witnessmark.media.sniff import DOCUMENTS, OTHER, PICTURES, SHOWN, SOUND_AND_VIDEO
from witnessmark.projections import media_refs
from witnessmark.speech import states
from witnessmark.tasks import queue
from witnessmark.trade.ground.sentences import say
from witnessmark.web import errors, fence
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_device, require_person_or_device, settings
from witnessmark.web.common_schemas import FILE

TUS = "1.0.0"
EXTENSIONS = "creation,creation-with-upload,checksum,expiration"
PIECE_TYPE = "application/offset+octet-stream"
OFFER_AGAIN = 1000  # at most so many names in one `have`
KEEP = "private, max-age=31536000, immutable"
ASK_EACH_TIME = "private, no-cache"
FENCE = {
    "X-Content-Type-Options": "nosniff",
    "Content-Security-Policy": f"sandbox; {fence.NOTHING_RUNS}",
    "Cross-Origin-Resource-Policy": "same-origin",
}
# A browser's own reader of documents does not start inside a sandbox; it lets no script near our pages either.
DOCUMENT_FENCE = FENCE | {
    "Content-Security-Policy": fence.STYLED_ONLY.replace("object-src 'none'", "object-src 'self'"),
}
ENDINGS = {
    "image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp", "image/heic": ".heic", "image/heif": ".heif",
    "image/avif": ".avif", "image/tiff": ".tif", "application/pdf": ".pdf", "audio/mp4": ".m4a",
    "audio/webm": ".webm", "audio/ogg": ".ogg", "audio/wav": ".wav", "video/mp4": ".mp4",
}  # fmt: skip

KEPT = {"type": "object", "properties": {"kept": {"type": "boolean"}}, "required": ["kept"]}

blueprint = Blueprint("media", __name__, url_prefix="/api/media", description="Originals and previews")


class Have(Schema):
    sha256 = fields.List(
        fields.String(validate=validate.Regexp(r"[0-9a-f]{64}\Z")),
        required=True,
        validate=validate.Length(max=OFFER_AGAIN),
    )


class Here(Schema):
    here = fields.List(fields.String(), required=True)


@blueprint.errorhandler(MediaRefusal)
def refused(error: MediaRefusal):
    return errors.answer(error.status, error.code, error.message, error.where, error.retry_after)


@blueprint.before_request
def speak_tus() -> Response | None:
    if "/uploads" not in request.path or request.method == "OPTIONS" or request.headers.get("Tus-Resumable") == TUS:
        return None
    answer = errors.answer(412, "tus_version", say("server.media.tus_version", version=TUS))
    answer.headers["Tus-Version"] = TUS
    return answer


@blueprint.after_request
def sign_tus(response: Response) -> Response:
    if "/uploads" in request.path:
        response.headers["Tus-Resumable"] = TUS
        response.headers["Cache-Control"] = "no-store"
    return response


@blueprint.route("/uploads", methods=["OPTIONS"])
@blueprint.response(204)
def what_uploads_can() -> Response:
    """What this server understands of tus."""
    headers = {
        "Tus-Version": TUS,
        "Tus-Extension": EXTENSIONS,
        "Tus-Checksum-Algorithm": ",".join(CHECKSUMS),
        "Tus-Max-Size": str(uploads.LARGEST),
    }
    return Response(status=204, headers=headers)


@blueprint.post("/uploads")
@require_person_or_device()
@blueprint.response(201, description="Location names the upload, Upload-Offset how far it has come")
def create_upload() -> Response:
    """Begins an upload or finds it again; Upload-Offset says where to go on, the whole length that all is here."""
    metadata = read_metadata(request.headers.get("Upload-Metadata", ""))
    length = request.headers.get("Upload-Length", "")
    if not store.is_sha256(metadata.get("sha256")) or not (length.isascii() and length.isdigit() and len(length) < 13):
        raise MediaRefusal(400, "unnamed", say("server.media.unnamed"))
    upload = uploads.Upload(metadata["sha256"], int(length), _sender())
    progress = _uploads().create(upload)
    if request.content_type == PIECE_TYPE and progress.offset == 0 and not progress.here:
        progress = _take_piece(upload, 0)
    elif progress.here:
        _look_at(upload, progress)
    answer = _stands(progress, 201)
    answer.headers["Location"] = f"{request.script_root}/api/media/uploads/{upload.name}"
    return answer


@blueprint.route("/uploads/<name>", methods=["HEAD"])
@require_person_or_device()
@blueprint.response(200, description="in Upload-Offset and Upload-Length")
def where_upload_stands(name: str) -> Response:
    """How far an upload has come."""
    upload = uploads.named(name, _sender())
    answer = _stands(_uploads().progress(upload), 200)
    answer.headers["Upload-Length"] = str(upload.length)
    return answer


@blueprint.patch("/uploads/<name>")
@require_person_or_device()
@blueprint.response(204, description="Upload-Offset says how far it has come")
def take_piece(name: str) -> Response:
    """Takes the next piece, of any length; when it is the last one, the file is checked and stored."""
    upload = uploads.named(name, _sender())
    if request.content_type != PIECE_TYPE:
        raise MediaRefusal(415, "piece_type", say("server.media.piece_type", type=PIECE_TYPE))
    offset = request.headers.get("Upload-Offset", "")
    if not (offset.isascii() and offset.isdigit()):
        raise MediaRefusal(400, "no_offset", say("server.media.no_offset"))
    return _stands(_take_piece(upload, int(offset)), 204)


@blueprint.post("/have")
@require_person_or_device()
@blueprint.arguments(Have)
@blueprint.response(200, Here)
def have(payload):
    """Which of these originals are here."""
    with reading(db.engine) as conn:
        return {"here": sorted(store.which(conn, payload["sha256"]))}


@blueprint.put("/<sha256>/preview")
@require_device()
@blueprint.response(200, KEPT)
def keep_provisional(sha256: str):
    """Keeps the small picture that a phone made of its own original, until the server has looked at that itself."""
    if not store.is_sha256(sha256):
        raise OriginalMissing(sha256)
    with reading(db.engine) as conn:
        maker = media_refs.first_device(conn, g.workshop, sha256)
    if maker != g.device.id:
        # A record by another phone is another phone's picture: nobody else may say what it looks like.
        code = "not_its_picture" if maker else "no_record"
        words = "server.media.preview_other_phone" if maker else "server.media.preview_no_record"
        raise MediaRefusal(409, code, say(words), sha256)
    announced = request.content_length
    if announced is None or announced > previews.LARGEST_PROVISIONAL:
        raise MediaRefusal(
            413, "too_long", say("server.media.preview_too_long", most=previews.LARGEST_PROVISIONAL), sha256
        )
    data = request.environ["wsgi.input"].read(announced)
    if len(data) != announced:
        raise MediaRefusal(400, "cut_off", say("server.media.preview_cut_off"), sha256)
    return jsonify({"kept": previews.keep_provisional(settings(), db.engine, sha256, data)})


@blueprint.get("/<sha256>/original")
@require_person_or_device()
@blueprint.response(200, FILE, content_type="*/*")
@blueprint.alt_response(206, schema=FILE, content_type="*/*", description="the part that was wanted")
@blueprint.alt_response(304, description="as it was")
def original(sha256: str) -> Response:
    """The original bytes; `download=1` to save, `name` as the name to save it under. Answers ranges."""
    with reading(db.engine) as conn:
        kind = store.type_of(conn, sha256) if media_refs.is_named(conn, g.workshop, sha256) else None
    if kind is None:
        raise OriginalMissing(sha256)
    shown = kind in SHOWN
    # Werkzeug's own pieces of 8 KiB are slow for pictures of some megabytes.
    request.environ["wsgi.file_wrapper"] = lambda file, _size=0: FileWrapper(file, 1 << 18)
    try:
        path = store.path_of(settings(), sha256)
        answer = send_file(path, mimetype=kind if shown else OTHER, conditional=True, etag=sha256)
    except FileNotFoundError:
        raise OriginalMissing(sha256) from None
    answer.headers.update(DOCUMENT_FENCE if kind in DOCUMENTS else FENCE)
    answer.headers["Cache-Control"] = KEEP
    if not shown or request.args.get("download"):
        name = request.args.get("name") or sha256[:16] + ENDINGS.get(kind, ".bin")
        answer.headers["Content-Disposition"] = attachment(name)
    return answer


@blueprint.get("/<sha256>/preview/<int:edge>")
@require_person_or_device()
@blueprint.response(200, FILE, content_type="image/jpeg")
@blueprint.alt_response(206, schema=FILE, content_type="image/jpeg", description="the part that was wanted")
@blueprint.alt_response(304, description="as it was")
def preview(sha256: str, edge: int) -> Response:
    """A small picture, 1600, 640 or 320 points; the header Witnessmark-Preview says whose: `own` or `provisional`."""
    with reading(db.engine) as conn:
        named = media_refs.is_named(conn, g.workshop, sha256)
        preview_file = previews.find(settings(), conn, sha256, edge) if named else None
    if preview_file is None:
        raise MediaRefusal(404, "no_preview", say("server.media.no_preview"), sha256)
    answer = send_file(
        preview_file.path, mimetype="image/jpeg", conditional=True, etag=f"{sha256[:32]}-{edge}-{preview_file.final:d}"
    )
    answer.headers.update(FENCE)
    # What the phone sent will be replaced: it must not be cached as if it were final.
    answer.headers["Cache-Control"] = KEEP if preview_file.final else ASK_EACH_TIME
    answer.headers["Witnessmark-Preview"] = "own" if preview_file.final else "provisional"
    return answer


def read_metadata(header: str) -> dict[str, str]:
    """tus Upload-Metadata, `key base64,key base64`. Raises MediaRefusal 400 for anything else."""
    metadata = {}
    try:
        for pair in filter(None, (part.strip() for part in header.split(","))):
            key, _, value = pair.partition(" ")
            metadata[key] = b64decode(value, validate=True).decode()
    except ValueError:  # of base64, of bytes that are no text, of characters that are no ASCII
        raise MediaRefusal(400, "metadata", say("server.media.bad_metadata")) from None
    return metadata


def attachment(name: str) -> str:
    """Content-Disposition for saving under `name`, which is data and nothing else (RFC 6266, RFC 8187)."""
    last = name.replace("\\", "/").rsplit("/", 1)[-1]
    # Control and format characters out: the latter can turn the reading direction and so hide an ending.
    clean = "".join(c for c in last if category(c) not in ("Cc", "Cf", "Cs", "Co", "Cn")).strip(" .")[-120:] or "file"
    plain = "".join(c if c.isascii() and (c.isalnum() or c in "-_. ") else "_" for c in clean)
    return f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(clean, safe='')}"


def _sender() -> str:
    """The id of the phone or person whose request this is."""
    return g.device.id if g.device else g.person.id


def _take_piece(upload: uploads.Upload, offset: int) -> uploads.Progress:
    progress = _uploads().append(
        upload,
        offset,
        request.environ["wsgi.input"].read,
        request.content_length,
        parse_checksum(request.headers.get("Upload-Checksum")),
    )
    _look_at(upload, progress)
    return progress


def _look_at(upload: uploads.Upload, progress: uploads.Progress) -> None:
    if progress.here and progress.kind in PICTURES:
        queue.put(settings(), "picture", upload.sha256)
    if progress.here and progress.kind in SOUND_AND_VIDEO and states.may_hear(settings()):
        queue.put(settings(), "sound", upload.sha256)


def _stands(progress: uploads.Progress, status: int) -> Response:
    answer = Response(status=status)
    answer.headers["Upload-Offset"] = str(progress.offset)
    if progress.expires is not None:
        answer.headers["Upload-Expires"] = formatdate(progress.expires, usegmt=True)
    return answer


def _uploads() -> uploads.Uploads:
    extensions = current_app.extensions
    if "witnessmark.uploads" not in extensions:
        extensions["witnessmark.uploads"] = uploads.Uploads(settings(), db.engine)
    return extensions["witnessmark.uploads"]
