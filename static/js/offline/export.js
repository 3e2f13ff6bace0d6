// The unsent list as a file, for the day the laptop does not come back.

function dataUrl(blob) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result);
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(blob);
  });
}

/** Everything the laptop has not acknowledged, photos as data URLs; returns the file's name. */
export async function exportQueue(outbox) {
  const operations = [];
  for (const op of await outbox.all()) {
    if (op.state === "sent") continue;
    operations.push({ ...op, body: op.body instanceof Blob ? await dataUrl(op.body) : op.body });
  }
  const text = JSON.stringify({ format: "pitsplice unsent list 1", written: new Date().toISOString(), operations }, null, 1);
  const name = `pitsplice-not-sent-${new Date().toISOString().slice(0, 16).replaceAll(":", "")}.json`;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return name;
}
