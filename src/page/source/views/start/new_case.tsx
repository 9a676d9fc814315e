import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Big, Choice, DateField, Pick, Problems, Sheet, TextField, afterClosing, say } from "../../parts";
import { goTo } from "../../places";
import { library } from "../../store/job";
import { type Intake, emptyIntake, missing, startCase } from "./intake";
import { Odometer } from "./odometer";

const notKnown = { id: "", name: "not known" };

interface FieldsProps {
  intake: Intake;
  put: (changes: Partial<Intake>) => void;
}

function Needed({ intake, put }: FieldsProps): JSX.Element {
  const layouts = (library.value?.templates ?? []).map((one) => ({ id: one.id, name: one.name, hint: `${one.segments} segments` }));
  return (
    <>
      <Choice label="Layout to start from" options={layouts} value={intake.template} onChange={(template) => put({ template })} />
      <DateField
        label="Vehicle built"
        value={intake.built}
        required
        hint="YYYY, YYYY-MM or YYYY-MM-DD. The year decides which insulations can be there, so it is never assumed."
        onChange={(built) => put({ built })}
      />
      <DateField
        label="Day of the inspection"
        value={intake.inspected}
        precision="day"
        required
        hint="Remaining life counts from this day."
        onChange={(inspected) => put({ inspected })}
      />
    </>
  );
}

function Wanted({ intake, put }: FieldsProps): JSX.Element {
  const known = library.value;
  return (
    <>
      <h3>As far as it is known</h3>
      <Choice label="Region where it was made" options={[...(known?.regions ?? []), notKnown]} value={intake.region} onChange={(region) => put({ region })} />
      <Odometer km={intake.odometer_km} onChange={(odometer_km) => put({ odometer_km })} />
      <Choice label="Parked" options={[...(known?.parkings ?? []), notKnown]} value={intake.parking} onChange={(parking) => put({ parking })} />
      <Pick label="Climate where it lived" options={[notKnown, ...(known?.climates ?? [])]} value={intake.climate} onChange={(climate) => put({ climate })} />
      <Pick label="How it was used" options={[notKnown, ...(known?.duties ?? [])]} value={intake.duty} onChange={(duty) => put({ duty })} />
      <TextField label="Title of the case" value={intake.title} hint="In plain words; it can be changed at any time." onChange={(title) => put({ title })} />
    </>
  );
}

/** A short intake, then the case with everything that it assumes. */
export function NewCase({ onClose }: { onClose: () => void }): JSX.Element {
  const [intake, setIntake] = useState(emptyIntake);
  const [wrong, setWrong] = useState<unknown>(null);
  const [working, setWorking] = useState(false);
  const put = (changes: Partial<Intake>): void => setIntake((now) => ({ ...now, ...changes }));

  async function start(): Promise<void> {
    const lack = missing(intake);
    if (lack) return setWrong(new Error(lack));
    setWorking(true);
    try {
      await startCase(intake);
      say("The case is started. What it assumes is listed.");
      afterClosing(() => goTo("vehicle"));
      onClose();
    } catch (error) {
      setWrong(error);
      setWorking(false);
    }
  }

  return (
    <Sheet title="New case" onClose={onClose}>
      <Needed intake={intake} put={put} />
      <Wanted intake={intake} put={put} />
      <Problems problems={wrong} title="The case cannot be started yet" />
      <Big primary disabled={working || !library.value} onPress={start}>
        Start the case
      </Big>
    </Sheet>
  );
}
