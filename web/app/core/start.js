// The first of all modules: once the calculator's worker is on its way, the rest of the page may come.
// Reading a hundred modules keeps the page busy for longer than anything else before the first answer.

import "./client.js"; // starts the worker

const rest = /** @type {HTMLTemplateElement | null} */ (document.getElementById("rest"));
if (rest) document.head.append(rest.content);
