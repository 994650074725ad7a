// @ts-check
// Pictures: one that this telephone can show and Lampside cannot read (HEIC, WebP) is made a JPEG before it is sent.

const longest = 4000;

/** @param {File} file */
async function asJpeg(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  /** @type {Blob | null} */
  const jpeg = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.9));
  if (!jpeg) throw new Error("no JPEG");
  return new File([jpeg], "picture.jpg", { type: "image/jpeg" });
}

document.addEventListener("change", async (event) => {
  const input = event.target;
  if (!(input instanceof HTMLInputElement) || input.type !== "file" || input.name !== "picture") return;
  const file = input.files?.[0];
  if (!file || file.type === "image/jpeg" || file.type === "image/png") return;
  const save = input.form?.querySelector("button[type=submit]");
  if (save instanceof HTMLButtonElement) save.disabled = true;
  try {
    const list = new DataTransfer();
    list.items.add(await asJpeg(file));
    input.files = list.files;
  } catch {
    // It is sent as it is, and the answer says what to do.
  } finally {
    if (save instanceof HTMLButtonElement) save.disabled = false;
  }
});
