// Holds every .glb and .gltf of the given folders and files to the Khronos glTF validator: no
// error and no warning. Run: node validate_glb.mjs MODULES FOLDER_OR_FILE...
// The validator is the npm package gltf-validator, which third_party/bootstrap.sh test installs
// outside the source tree: into the folder that the environment's STANDPOINT_NODE_MODULES names,
// else into node_modules of the build folder, which CMake passes as MODULES.

import { readFileSync, readdirSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";

const [given, ...asked] = process.argv.slice(2);
const validator = load(process.env.STANDPOINT_NODE_MODULES || given || "node_modules");

function fail(message) {
  console.error(`validate_glb: ${message}`);
  process.exit(2);
}

function load(folder) {
  try {
    return createRequire(join(resolve(folder), "here.js"))("gltf-validator");
  } catch (error) {
    return fail(`found no gltf-validator in ${folder} (${error.code}), expected what ` +
      "`bash third_party/bootstrap.sh test` installs");
  }
}

function modelsIn(path) {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path).sort().filter((name) => /\.(glb|gltf)$/.test(name))
    .map((name) => join(path, name));
}

async function faultsOf(path) {
  const report = await validator.validateBytes(new Uint8Array(readFileSync(path)), {
    uri: path,
    maxIssues: 50,
    externalResourceFunction: async (uri) =>
      new Uint8Array(readFileSync(join(dirname(path), decodeURIComponent(uri)))),
  });
  // Severity 0 is an error, 1 a warning; 2 and 3 are remarks.
  return report.issues.messages.filter((message) => message.severity <= 1);
}

const paths = asked.flatMap(modelsIn);
if (paths.length === 0) fail("found no .glb or .gltf, expected at least one");
let faults = 0;
for (const path of paths) {
  for (const fault of await faultsOf(path)) {
    console.error(`${path}: ${fault.code} at ${fault.pointer ?? fault.offset}: ${fault.message}`);
    faults += 1;
  }
}
console.log(`${paths.length} files, ${faults} errors or warnings`);
process.exit(faults === 0 ? 0 : 1);
