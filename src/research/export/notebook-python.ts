/** A worked notebook in Python: cells as editors read them (`# %%`), numpy alone. It is part of each export and runs in that folder. */
export const PYTHON_NOTEBOOK = `# %% [markdown]
# # From the tables to a comparison of the arms
# Needs Python 3.9 and numpy. Run it in the folder of the export: python3 notebook.py
# Each step computes a number anew and holds it against the one in the export.

# %% Files are those that the data package names
import csv, hashlib, json, math
from collections import defaultdict
import numpy as np

package = json.load(open("datapackage.json"))
for resource in package["resources"]:
    if "hash" in resource:
        found = hashlib.sha256(open(resource["path"], "rb").read()).hexdigest()
        assert resource["hash"] == "sha256:" + found, resource["path"]

def table(name):
    """Rows of a table as dictionaries; what is empty is None."""
    with open(name, newline="", encoding="utf-8") as file:
        return [{k: (v if v != "" else None) for k, v in row.items()} for row in csv.DictReader(file)]

# %% Sessions that meet the protocol
sessions = {row["session"]: row for row in table("sessions.csv") if row["set_aside"] is None}
print("sessions", len(sessions))

# %% The rate of milk transfer, from the rows: milk taken over minutes from the first latch to the last moment with the nipple in
rows = defaultdict(list)
for row in table("rows.csv"):
    rows[row["session"]].append((float(row["at_s"]), float(row["intake_ml"]), row["teat_in_mouth"] == "true"))
indices = {(row["session"], row["index"]): row for row in table("indices.csv")}
for session in sessions:
    own = rows[session]
    inside = [i for i, (_, _, is_in) in enumerate(own) if is_in]
    first, last = own[inside[0]], own[inside[-1]]
    rate = 60 * (last[1] - first[1]) / (last[0] - first[0])
    told = indices[(session, "transferRateMlPerMin")]["value"]
    print("rate", session, repr(rate), told)

# %% One number a participant and arm; then the arms
def quantile(degrees):
    """Two-sided 95 % quantile of Student's t, by integrating its density."""
    scale = math.exp(math.lgamma((degrees + 1) / 2) - math.lgamma(degrees / 2)) / math.sqrt(degrees * math.pi)
    # Over the angle whose tangent is t / sqrt(degrees): the density's tail becomes a finite stretch.
    angle = np.linspace(0, math.pi / 2, 200001)
    density = scale * math.sqrt(degrees) * np.cos(angle) ** (degrees - 1)
    area = np.concatenate([[0], np.cumsum((density[1:] + density[:-1]) / 2 * np.diff(angle))])
    return math.sqrt(degrees) * math.tan(np.interp(0.475, area, angle))

def compare(index):
    people = defaultdict(lambda: defaultdict(list))
    for session, row in sessions.items():
        value = indices[(session, index)]["value"]
        if value is not None:
            people[row["arm"]][row["participant"]].append(float(value))
    arms = {arm: {who: np.mean(values) for who, values in of.items()} for arm, of in people.items() if len(of) > 1}
    names = sorted(arms)
    for name in names[1:]:
        a, b = arms[names[0]], arms[name]
        if set(a) == set(b):
            change = np.array([b[who] - a[who] for who in a])
            degrees, error, difference = len(change) - 1, change.std(ddof=1) / math.sqrt(len(change)), change.mean()
            if error == 0:
                continue
        else:
            a, b = np.array(list(a.values())), np.array(list(b.values()))
            parts = [a.var(ddof=1) / len(a), b.var(ddof=1) / len(b)]
            error, difference = math.sqrt(sum(parts)), b.mean() - a.mean()
            if error == 0:
                continue  # nothing varies: nobody knows how far it may be off
            degrees = sum(parts) ** 2 / (parts[0] ** 2 / (len(a) - 1) + parts[1] ** 2 / (len(b) - 1))
        half = quantile(degrees) * error
        print("comparison", index, names[0], name, repr(float(difference)), repr(float(difference - half)), repr(float(difference + half)))

for index in dict.fromkeys(key[1] for key in indices):
    compare(index)
`;
