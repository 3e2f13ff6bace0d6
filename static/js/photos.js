// Photos of a job: made smaller on the phone, kept there, shown from there until the laptop has them.
import { html, useEffect, useState } from "../vendor/preact-htm/standalone.module.js";
import { write } from "./api.js";
import { who } from "./kept.js";
import { ready } from "./offline/phone.js";
import { Problem, when } from "./parts.js";

const LONGEST_SIDE = 1600;
const QUALITY = 0.85;

/** A JPEG of at most 1,600 px a side. Drawn anew, so nothing of the camera's notes (place, time, phone) is in it. */
export async function shrink(file) {
  let photo;
  try {
    photo = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch (cause) {
    throw new Error("This file is not a photo the phone can open.", { cause });
  }
  const scale = Math.min(1, LONGEST_SIDE / Math.max(photo.width, photo.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(photo.width * scale));
  canvas.height = Math.max(1, Math.round(photo.height * scale));
  const context = canvas.getContext("2d");
  // A JPEG has no clear ground: white under a transparent picture, not black.
  context.fillStyle = "#fff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.imageSmoothingQuality = "high";
  context.drawImage(photo, 0, 0, canvas.width, canvas.height);
  photo.close();
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
  canvas.width = canvas.height = 0;
  if (!blob) throw new Error("This phone could not make the photo smaller.");
  return blob;
}

/** A photo from the phone's own store where it is there, else from the laptop. */
function Thumbnail({ photo, blob }) {
  const [source, setSource] = useState(blob ? "" : `/api/photos/${photo.id}`);
  useEffect(() => {
    if (!blob) return undefined;
    const url = URL.createObjectURL(blob);
    setSource(url);
    return () => URL.revokeObjectURL(url);
  }, [blob]);
  return html`<li>${source && html`<img src=${source} alt=${`Photo by ${photo.who}, ${when(photo.when || photo.at)}`} loading="lazy" />`}
    <p class="quiet">${photo.id ? "On the laptop" : "Not sent yet"}</p></li>`;
}

/** The photos of a job (of one step, where given) and the button that adds one. */
export function Photos({ job, setJob, step = "", text = "" }) {
  const [trouble, setTrouble] = useState(null);
  const [busy, setBusy] = useState(false);
  const [blobs, setBlobs] = useState(new Map());
  const photos = (job.photos ?? []).filter((photo) => !step || photo.step === step);
  useEffect(() => {
    let current = true;
    ready.then(({ outbox }) => outbox?.all()).then((all = []) => {
      const mine = all.filter((op) => op.body instanceof Blob);
      if (current) setBlobs(new Map(mine.flatMap((op) => [[op.key, op.body], ...(op.photo ? [[op.photo, op.body]] : [])])));
    });
    return () => { current = false; };
  }, [job.photos]);
  const add = async (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    setBusy(true);
    setTrouble(null);
    try {
      const blob = await shrink(file);
      const asked = new URLSearchParams({ step, who: who(), when: new Date().toISOString() });
      const { photo } = await write("POST", `/api/jobs/${job.id}/photos?${asked}`, blob, "image/jpeg", { text });
      setJob({ ...job, photos: [...(job.photos ?? []), { step, who: who(), when: asked.get("when"), ...photo }] });
    } catch (problem) {
      setTrouble(problem);
    }
    setBusy(false);
  };
  if (job.state === "sealed" && !photos.length) return null;
  const id = `photo-${step || "job"}`;
  return html`<div class="photos">
    <${Problem} trouble=${trouble} />
    ${photos.length > 0 && html`<ul class="thumbs">${photos.map((photo) => html`<${Thumbnail} key=${photo.key ?? photo.id} photo=${photo} blob=${blobs.get(photo.key) ?? blobs.get(photo.id)} />`)}</ul>`}
    ${job.state !== "sealed" && html`<label class=${`button full ${busy || !who() ? "off" : ""}`} for=${id}>${busy ? "Making it smaller" : "Take or choose a photo"}</label>
      <input class="hide" id=${id} type="file" accept="image/*" disabled=${busy || !who()} onChange=${add} />`}
  </div>`;
}
