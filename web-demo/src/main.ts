import { mount } from "svelte";
import "./style/base.css";
import App from "./App.svelte";
import { settings } from "./bench/settings.svelte.js";

settings.show();
const target = document.querySelector("#app");
if (target !== null) mount(App, { target });
