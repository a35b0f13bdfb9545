// What the page adds to the terminal in it: letters as large as the design size allows, and the
// screen's own keyboard only when it is asked for. Comes after textual.js, which opens the terminal once all is loaded.

const COLUMNS = 80;
const ROWS = 24;
const WIDTH = 0.6; // of a letter, and the height of a line, for letters of size 1
const HEIGHT = 1.32;
const SMALLEST = 12;
const LARGEST = 24;

const terminal = document.getElementById("terminal");
const scheme = location.protocol === "https:" ? "wss" : "ws";
const { clientWidth, clientHeight } = terminal;
const fitting = Math.min(clientWidth / COLUMNS / WIDTH, clientHeight / ROWS / HEIGHT);
terminal.dataset.fontSize = Math.max(SMALLEST, Math.min(LARGEST, Math.floor(fitting)));
terminal.dataset.sessionWebsocketUrl = `${scheme}://${location.host}/ws`;

// Why it was closed, where the server says so.
window.WebSocket = class extends WebSocket {
  constructor(address) {
    super(address);
    this.addEventListener("close", ({ reason }) => {
      document.getElementById("why").textContent = reason;
    });
  }
};

function typing() {
  return document.querySelector(".xterm-helper-textarea");
}

addEventListener("load", () => {
  typing().inputMode = "none";
});

// With the first thing on the screen, the keys go there.
new MutationObserver((_, observer) => {
  if (document.body.classList.contains("-first-byte")) {
    observer.disconnect();
    typing().focus();
  }
}).observe(document.body, { attributes: true });

document.getElementById("again").addEventListener("click", () => location.reload());

document.getElementById("keyboard").addEventListener("click", () => {
  typing().inputMode = typing().inputMode === "none" ? "text" : "none";
  typing().blur();
  typing().focus();
});
