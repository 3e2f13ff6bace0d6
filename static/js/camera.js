// The phone's live camera: opened, shown, and closed again whatever happens.

/** Say why a live picture cannot be had here, null where it can. */
export function cameraMissing() {
  if (!isSecureContext) return "The live camera needs the secure page (https). A photo of the tag works here as well.";
  if (!navigator.mediaDevices?.getUserMedia) return "This browser has no live camera. Take a photo of the tag instead.";
  return null;
}

const REFUSED = {
  NotAllowedError: "The camera is not allowed for this page. Allow it in the browser's settings for this site, or take a photo of the tag.",
  NotFoundError: "No camera found. Choose a photo of the tag, or type its id.",
  NotReadableError: "Another program has the camera. Close it and try again, or take a photo of the tag.",
};

/**
 * Open the camera at the back of the phone.
 *
 * @returns {Promise<MediaStream>}
 * @throws {Error}  The message is for people.
 */
export async function openCamera() {
  const missing = cameraMissing();
  if (missing) throw new Error(missing);
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: { ideal: "environment" }, width: { ideal: 1280 }, height: { ideal: 720 } },
    });
  } catch (cause) {
    throw new Error(REFUSED[cause.name] || "The camera did not start. Take a photo of the tag, or type its id.", { cause });
  }
}

export function closeCamera(stream) {
  for (const track of stream?.getTracks() || []) track.stop();
}

/** Say whether this camera has a lamp that a page may switch. */
export const hasLamp = (stream) => Boolean(stream?.getVideoTracks()[0]?.getCapabilities?.().torch);

export async function setLamp(stream, on) {
  try {
    await stream.getVideoTracks()[0].applyConstraints({ advanced: [{ torch: on }] });
    return on;
  } catch {
    return false; // Some phones offer a lamp and then refuse it.
  }
}
