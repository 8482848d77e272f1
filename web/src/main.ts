// Puts the page into the document.
import { mount } from "svelte";
import App from "./App.svelte";
import "./bench.css";
import "./job.css";

const target = document.getElementById("page");
if (target === null) throw new Error("index.html has no element #page");
mount(App, { target });
