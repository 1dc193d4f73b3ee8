// What the tests use beside Node, from where the package is developed.

import { createRequire } from "node:module";
import { fileURLToPath, pathToFileURL } from "node:url";

const require = createRequire(pathToFileURL(process.env.ODDMENT_TOOLS));
const tool = (name) => import(pathToFileURL(require.resolve(name)));

export const { chromium } = (await tool("playwright-core")).default;

/** Builds a folder as `vite build` does. */
export async function viteBuild(folder) {
  const { build } = await tool("vite");
  // The page is looked at below the site's root.
  const settings = { root: fileURLToPath(folder), base: "./", logLevel: "warn", configFile: false };
  await build({ ...settings, build: { assetsInlineLimit: 0 } });
}

/** Builds a folder as `webpack` does. */
export async function webpackBuild(folder) {
  const { default: webpack } = await tool("webpack");
  const context = fileURLToPath(folder);
  const output = { path: fileURLToPath(new URL("dist/", folder)), publicPath: "auto", filename: "main.js" };
  await new Promise((resolve, reject) => {
    webpack({ context, mode: "production", entry: "./main.js", output, performance: false }, (error, stats) => {
      if (error) reject(error);
      else if (stats.hasErrors() || stats.hasWarnings()) reject(new Error(stats.toString("errors-warnings")));
      else resolve();
    });
  });
}
