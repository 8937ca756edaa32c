// The core as WebAssembly: packed into the page, unpacked once, asked with JSON.

let module;
let instance;

async function unpack(packed) {
  const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer();
}

export async function load(packed) {
  module = await WebAssembly.compile(await unpack(packed));
  instance = await WebAssembly.instantiate(module);
}

// An edit may cut a sign in two that is written with two halves. One half alone is no text, so it is read as an unreadable sign.
const whole = (key, value) => (typeof value === "string" ? value.replace(/\p{Surrogate}/gu, "\ufffd") : value);

// An instance that a mistake of ours has ended is of no more use, so the next request gets a new one.
export async function ask(request) {
  instance ??= await WebAssembly.instantiate(module);
  const { memory, room, answer, length } = instance.exports;
  try {
    const written = new TextEncoder().encode(JSON.stringify(request, whole));
    // Memory that grows is another buffer, so each call comes before its buffer is asked for.
    const to = room(written.length);
    new Uint8Array(memory.buffer, to, written.length).set(written);
    const from = answer();
    return JSON.parse(new TextDecoder().decode(new Uint8Array(memory.buffer, from, length())));
  } catch (error) {
    instance = undefined;
    return { trouble: `headlap failed on this text, so nothing was checked (${error.message}). Take back the last change, and report this text.` };
  }
}
