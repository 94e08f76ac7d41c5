import { mount } from "svelte";
import App from "./App.svelte";
import { begin, sweepOnReturn } from "./lib/state/shop.svelte";

mount(App, { target: document.body });
void begin();
sweepOnReturn();
