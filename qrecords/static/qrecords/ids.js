// UUIDv7 (RFC 9562, 5.7): 48 bits of Unix milliseconds, version 7, variant 10, the rest random.
// Fills every empty <input data-entry-id>, so that a form sent twice is recognised as one entry.
export function uuid7(now = Date.now(), random = crypto.getRandomValues(new Uint8Array(10))) {
  const bytes = new Uint8Array(16);
  for (let i = 0; i < 6; i++) bytes[i] = Math.floor(now / 2 ** (8 * (5 - i))) % 256;
  bytes.set(random, 6);
  bytes[6] = (bytes[6] & 0x0f) | 0x70;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

export function fillEntryIds(root = document) {
  for (const field of root.querySelectorAll("input[data-entry-id]")) if (!field.value) field.value = uuid7();
}

fillEntryIds();
