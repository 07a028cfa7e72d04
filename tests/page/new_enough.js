/** Whether this Node.js takes the page's modules as they are: 20.19 was the first that does (its own release notes). */
const [major, minor] = process.versions.node.split(".").map(Number);
process.exitCode = major > 20 || (major === 20 && minor >= 19) ? 0 : 1;
