// A lesson, a job card or the glossary opens as a page of its own; any other notebook stays what it is.

import { isLesson } from "./lesson/cells.js";
import { LessonPage } from "./course/page.js";
import { Surroundings } from "./course/surroundings.js";

const SHEETS = ["page", "card", "panel"];

function activate(app) {
  for (const name of SHEETS) {
    const href = new URL(`look/${name}.css`, import.meta.url).href;
    document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href }));
  }
  const surroundings = new Surroundings(app);
  app.docRegistry.addWidgetExtension("Notebook", {
    createNew(panel, context) {
      opened(app, panel, context, surroundings).catch((problem) => console.error("The lesson page:", problem));
    },
  });
}

async function opened(app, panel, context, surroundings) {
  await context.ready;
  if (!isLesson(context.model)) return;
  await new LessonPage(app, panel, context, surroundings).open();
}

export default { id: "ostrel-lesson-page:plugin", autoStart: true, activate };
