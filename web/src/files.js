// The files of a library: from the page itself, a folder, or dropped; and back to where they came from.

const wanted = (name) => name.endsWith(".detail");

// Settings and rules are kept beside the details, by their paths in the folder.
const settled = (name) => name.endsWith(".toml");
function put(into, path, text, handle) {
  if (settled(path)) (into.toml ??= {})[path] = text;
  else into.set(path, { text, handle });
}

async function walk(folder, path, into, depth = 0) {
  for await (const [name, handle] of folder.entries()) {
    if (name.startsWith(".") || depth > 20) continue;
    if (handle.kind === "directory") await walk(handle, `${path}${name}/`, into, depth + 1);
    else if (wanted(name) || settled(name)) put(into, `${path}${name}`, await (await handle.getFile()).text(), handle);
  }
  return into;
}

// The user's own folder, where the browser opens folders; nothing when the user thinks better of it.
export async function folder() {
  try {
    return await walk(await window.showDirectoryPicker({ mode: "read" }), "", new Map());
  } catch (error) {
    if (error.name === "AbortError") return new Map();
    throw error;
  }
}

// Files of an input; those of one folder lose its name.
export async function picked(list) {
  const into = new Map();
  for (const file of list) {
    const name = (file.webkitRelativePath || file.name).split("/").slice(file.webkitRelativePath ? 1 : 0).join("/");
    if (wanted(name) || settled(name)) put(into, name, await file.text());
  }
  return into;
}

async function entry(at, path, into) {
  if (at.isDirectory) {
    const reader = at.createReader();
    for (;;) {
      const part = await new Promise((take, refuse) => reader.readEntries(take, refuse));
      if (part.length === 0) return;
      for (const inner of part) await entry(inner, `${path}${inner.name}${inner.isDirectory ? "/" : ""}`, into);
    }
  }
  const file = await new Promise((take, refuse) => at.file(take, refuse));
  if (wanted(file.name) || settled(file.name)) put(into, path, await file.text());
}

export async function dropped(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  const into = new Map();
  if (entries.length === 0) return picked(transfer.files);
  for (const one of entries) await entry(one, one.isDirectory ? "" : one.name, into);
  return into;
}

export function download(name, text, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// Back into the folder that it came from; else as a download. Says which.
export async function save(name, text, handle) {
  if (handle?.createWritable) {
    const out = await handle.createWritable();
    await out.write(text);
    await out.close();
    return `${name} is saved in its folder.`;
  }
  download(name.split("/").pop(), text, "text/plain");
  return `${name} is saved as a download.`;
}
