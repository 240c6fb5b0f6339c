// Jobs from files and to files.

import { make } from "./dom.js";
import { fileName, read, written } from "./job.js";

/** Give the job to whoever asks for it as a file, and return the file's name. */
export function save(job) {
  const address = URL.createObjectURL(new Blob([written(job)], { type: "application/json" }));
  const name = fileName(job);
  make("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
  return name;
}

/** Let a file be chosen, and read the job in it. */
export function opening(input, opened, refused) {
  input.addEventListener("change", async () => {
    const [file] = input.files;
    input.value = "";
    if (!file) return;
    try {
      opened(read(await file.text()));
    } catch (error) {
      refused(error.message);
    }
  });
}
