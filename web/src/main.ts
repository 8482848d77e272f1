// Puts the page into the document, in the language that is spoken.
import { mount } from "svelte";
import App from "./App.svelte";
import "./bench.css";
import "./job.css";
import { speak } from "./words.ts";

const target = document.getElementById("page");
if (target === null) throw new Error("index.html has no element #page");
await speak("en");
mount(App, { target });
