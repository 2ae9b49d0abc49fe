/** What has to be minded before anyone acts on an advice. */
export const cautions = {
  machine:
    "Before reaching under a planter: follow its operator's manual, lower or block it, stop the engine and relieve hydraulic pressure. Wear gloves where seed is treated and read the seed label.",
  dig: "Seed may be treated: wear gloves when digging and read the seed label.",
  stand:
    "Before working or destroying a stand, ask the insurer's adjuster, read the herbicide and seed labels and follow local rules.",
};
