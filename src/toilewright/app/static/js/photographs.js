// Photographs that she keeps with something: brought in one by one.
import { post } from "./api.js";

/** Rows for a thing's pictures, of the files of a field. */
export async function bringPictures(files, date) {
  const rows = [];
  for (const file of files) {
    const form = new FormData();
    form.append("file", file);
    rows.push({ file: await post("/pictures", form), date });
  }
  return rows;
}
