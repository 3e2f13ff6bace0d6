// Read a tag from a photo or a live picture, in the browser, with nothing fetched from outside
// this server. The reader and its 950 kB of WebAssembly load only when they are needed.

const READER = new URL("../vendor/zxing-wasm/reader/index.js", import.meta.url).href;
const WASM = new URL("../vendor/zxing-wasm/zxing_reader.wasm", import.meta.url).href;

const SMALL_SIDE = 1600;
// Phones refuse or blank a canvas above about 16 million pixels.
const MOST_PIXELS = 16_000_000;
const TAG_HEAD = "PITSPLICE ";

const QUICK = { formats: ["QRCode"], tryHarder: false, tryRotate: false, tryInvert: false, tryDownscale: true };
const THOROUGH = { formats: ["QRCode"], tryHarder: true, tryRotate: true, tryInvert: true, tryDownscale: true };

// In order of cost: most photos end at the first.
const ATTEMPTS = [
  { says: "Looking for the code", side: SMALL_SIDE, turn: 0, options: QUICK },
  { says: "Looking harder", side: SMALL_SIDE, turn: 0, options: THOROUGH },
  { says: "Looking at the full photo", side: Infinity, turn: 0, options: THOROUGH },
  { says: "Looking at the small photo", side: 800, turn: 0, options: THOROUGH },
  { says: "Turning the photo", side: SMALL_SIDE, turn: 30, options: THOROUGH },
  { says: "Turning the photo further", side: SMALL_SIDE, turn: 60, options: THOROUGH },
];

let readerPromise = null;

function loadReader() {
  readerPromise ??= import(READER)
    .then(async (reader) => {
      await reader.prepareZXingModule({
        overrides: { locateFile: (path, prefix) => (path.endsWith(".wasm") ? WASM : prefix + path) },
        fireImmediately: true,
      });
      return reader;
    })
    .catch((cause) => {
      // The next photo tries again: the laptop may have been out of reach for a moment.
      readerPromise = null;
      throw new Error("The code reader did not load. Type the id beside the code instead.", { cause });
    });
  return readerPromise;
}

async function openPhoto(file) {
  try {
    // Phones store photos sideways with a note; the note is followed here.
    return await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch (cause) {
    throw new Error("This file is not a photo the phone can open. Take a photo of the tag.", { cause });
  }
}

function pixels(photo, side, turn) {
  // A video tells its size under other names.
  const [fullWidth, fullHeight] = [photo.videoWidth ?? photo.width, photo.videoHeight ?? photo.height];
  const longest = Math.max(fullWidth, fullHeight);
  const scale = Math.min(1, side / longest, Math.sqrt(MOST_PIXELS / (fullWidth * fullHeight)));
  const width = Math.max(1, Math.round(fullWidth * scale));
  const height = Math.max(1, Math.round(fullHeight * scale));
  const angle = (turn * Math.PI) / 180;
  const canvas = document.createElement("canvas");
  canvas.width = Math.ceil(width * Math.cos(angle) + height * Math.sin(angle));
  canvas.height = Math.ceil(width * Math.sin(angle) + height * Math.cos(angle));
  const context = canvas.getContext("2d", { willReadFrequently: true });
  // White under a transparent picture and in the corners of a turned one: codes are dark on light.
  context.fillStyle = "#fff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.imageSmoothingQuality = "high";
  context.translate(canvas.width / 2, canvas.height / 2);
  context.rotate(angle);
  context.drawImage(photo, -width / 2, -height / 2, width, height);
  const data = context.getImageData(0, 0, canvas.width, canvas.height);
  // Phones free a canvas late; an emptied one costs nothing.
  canvas.width = canvas.height = 0;
  return data;
}

/** Say whether a code's text is one of our tags. */
export const isTag = (text) => text.toUpperCase().startsWith(TAG_HEAD);

function pick(found) {
  const texts = found.filter((code) => code.isValid && code.text).map((code) => code.text);
  return texts.find(isTag) ?? texts[0] ?? null;
}

// A live picture comes again at once, so each is looked at in one way only, the cheap way most often.
const GLANCES = [
  { side: 800, turn: 0, options: QUICK },
  { side: 1000, turn: 0, options: THOROUGH },
  { side: 640, turn: 0, options: QUICK },
  { side: 800, turn: 35, options: THOROUGH },
];

/**
 * Look for a tag in a running video until one is found or `signal` ends it.
 *
 * @param {HTMLVideoElement} video  Playing.
 * @param {AbortSignal} signal  Ends the search.
 * @param {(text: string) => void} [onOther]  Told the text of a code that is not one of our tags, once each.
 * @returns {Promise<string|null>}  The tag's text, or null where the signal ended it.
 * @throws {Error}  The reader did not load; the message is for people.
 */
export async function watchForTag(video, signal, onOther = () => {}) {
  const { readBarcodes } = await loadReader();
  let other = "";
  for (let look = 0; !signal.aborted; look += 1) {
    if (video.readyState >= 2 && video.videoWidth && !document.hidden) {
      const { side, turn, options } = GLANCES[look % GLANCES.length];
      const text = pick(await readBarcodes(pixels(video, side, turn), options));
      if (signal.aborted) return null;
      if (text && isTag(text)) return text;
      if (text && text !== other) onOther((other = text));
    }
    // Room for the page to answer a touch between two looks.
    await new Promise((done) => { setTimeout(done, 60); });
  }
  return null;
}

/**
 * Read the QR code in a photo of a tag.
 *
 * A tag's own code wins over any other code in the picture.
 *
 * @param {Blob} file  A photo: a File from an input, or any image Blob.
 * @param {(says: string, part: number) => void} [onProgress]  Told before each attempt: plain words, and 0 to 1.
 * @returns {Promise<string|null>}  The text, or null where no code was found.
 * @throws {Error}  The file is no photo, or the reader did not load; the message is for people.
 */
export async function readTagFromFile(file, onProgress = () => {}) {
  onProgress("Opening the photo", 0);
  const photo = await openPhoto(file);
  try {
    const { readBarcodes } = await loadReader();
    let last = "";
    for (const [index, { says, side, turn, options }] of ATTEMPTS.entries()) {
      const key = JSON.stringify([Math.min(side, Math.max(photo.width, photo.height)), turn, options]);
      // A small photo makes the full-size attempt a repeat of the one before.
      if (key === last) continue;
      last = key;
      onProgress(says, (index + 1) / (ATTEMPTS.length + 1));
      const text = pick(await readBarcodes(pixels(photo, side, turn), options));
      if (text) return text;
    }
    return null;
  } finally {
    photo.close();
  }
}
