// Two tabs of the app on one device: the one that saves tells the other.
/** @typedef {import("./shapes.js").RigRecord} RigRecord */

const channel = "BroadcastChannel" in self ? new BroadcastChannel("feed-to-frame") : null;

/** @param {RigRecord} record */
export const announce = (record) => channel?.postMessage({ id: record.id, rev: record.rev });

/** @param {(id: string, rev: number) => void} hear */
export function hearOthers(hear) {
  channel?.addEventListener("message", ({ data }) => hear(String(data?.id), Number(data?.rev)));
}
