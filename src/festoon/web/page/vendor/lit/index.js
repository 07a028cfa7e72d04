import"../lit-reactive-element/reactive-element.js";import"../lit-html/lit-html.js";export*from"../lit-element/lit-element.js";export*from"../lit-html/is-server.js";
