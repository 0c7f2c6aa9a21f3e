// A card without a notebook: its page and its Python side talk over a connection of their own, which is made again
// whenever it is lost. To the card it looks as a notebook's model does: state, messages, and who hears of them.

import card from "../../../card_page/page_side/card.js";

const AGAIN_AFTER = 1000; // ms until a lost connection is tried again

// A packet: length of its head, head as JSON, then the numbers.
function unpack(buffer) {
  const length = new DataView(buffer).getUint32(0);
  const { content, sizes } = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  let from = 4 + length;
  const buffers = sizes.map((size) => new DataView(buffer, (from += size) - size, size));
  return { content, buffers };
}

function connect(address, begin) {
  const state = {}, hearers = {};
  let socket, unsent, begun = false;
  const tell = (event, ...what) => { for (const hear of hearers[event] ?? []) hear(...what); };
  const model = {
    get: (name) => state[name],
    set(name, value) { state[name] = value; tell("change:" + name); },
    on(event, hear) { (hearers[event] ??= new Set()).add(hear); },
    off(event, hear) { hearers[event]?.delete(hear); },
    send(message) {
      if (socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
      else if (message.kind === "ask") unsent = message; // the latest counts
      else throw new Error("no connection");
    },
  };
  const open = () => {
    socket = new WebSocket(address);
    socket.binaryType = "arraybuffer";
    socket.addEventListener("message", ({ data }) => {
      const { content, buffers } = unpack(data);
      if (content.kind !== "begin") tell("msg:custom", content, buffers);
      else if (begun) { if (unsent) model.send(unsent); unsent = undefined; }
      else {
        begun = true;
        Object.assign(state, { _page: content.page, _shown: content.shown, _frame: buffers[0] });
        begin(model);
      }
    });
    socket.addEventListener("close", () => setTimeout(open, AGAIN_AFTER));
  };
  open();
}

const el = document.getElementById("card");
const address = new URL(`/card/${el.dataset.card}/connection`, location.href);
address.protocol = address.protocol === "https:" ? "wss:" : "ws:";
connect(address, (model) => card.render({ model, el }));
