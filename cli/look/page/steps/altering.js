// What can still be done on the cloth of a garment, also as if a fitting were made.

async function fittingText({ files, dataset }) {
  if (!files.length) {
    return "";
  }
  if (files[0].size > Number(dataset.largest)) {
    throw new Refused(dataset.tooLarge);
  }
  return files[0].text();
}

function letAlter(garment) {
  return new ReadForm({
    words: "See what its cloth allows",
    action: "alter",
    button: "Work it out",
    fields: async () => fromHtml((await answerTo("alter-form", { garment })).html),
    told: async ({ least, fitting, on }) => {
      const text = await fittingText(fitting);
      return { garment, least: least.value.trim(), fitting: text, on: text && on.value };
    },
    show: ({ html }) => [fromHtml(html)],
  });
}
