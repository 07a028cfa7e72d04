export*from"../lit-reactive-element/reactive-element.js";export*from"../lit-html/lit-html.js";export{LitElement,_$LE}from"./lit-element.js";
