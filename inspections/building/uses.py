"""What a room is for, by what people call it in a plan; common practice, no source."""

import re
import unicodedata

from inspections.checker.house.rooms import RoomKind

WORDS = {
    RoomKind.BATHROOM: "bath bad badezimmer shower dusche salle-de-bain bano ensuite",
    RoomKind.WASHROOM: "wc toilet toilette powder washroom lavatory toilettes aseo",
    RoomKind.KITCHEN: "kitchen kuche kueche cuisine cocina kitchenette",
    RoomKind.BEDROOM: "bedroom bed schlafzimmer schlafen chambre dormitorio habitacion",
    RoomKind.LIVING: "living lounge wohnzimmer wohnen salon sejour sala estar",
    RoomKind.DINING: "dining esszimmer essen salle-a-manger comedor",
    RoomKind.FAMILY: "family great",
    RoomKind.DEN: "den study office buro buero arbeitszimmer bureau estudio oficina library",
    RoomKind.RECREATION: "recreation rec games hobby spielzimmer",
    RoomKind.LAUNDRY: "laundry waschkuche waschkueche buanderie lavanderia lavadero",
    RoomKind.ENTRY: "entry foyer entrance eingang entree entrada vestibule recibidor",
    RoomKind.HALLWAY: "hall hallway corridor flur diele couloir pasillo landing galerie",
    RoomKind.STAIR: "stair stairs stairway treppe treppenhaus escalier escalera",
    RoomKind.CLOSET: "closet wardrobe placard armario ankleide dressing vestidor",
    RoomKind.PANTRY: "pantry speisekammer garde-manger despensa",
    RoomKind.UTILITY: "utility mechanical technik hausanschluss technique furnace boiler hwr",
    RoomKind.STORAGE: "storage store abstellraum debarras trastero lager rangement",
    RoomKind.GARAGE: "garage carport garaje",
    RoomKind.BASEMENT: "basement cellar keller cave sous-sol sotano",
    RoomKind.ATTIC: "attic loft dachboden grenier atico desvan speicher",
    RoomKind.CRAWL_SPACE: "crawl crawlspace",
    RoomKind.PORCH: "porch deck balcony balkon terrasse terrace veranda patio balcon loggia",
}
WHOLE = {word.replace("-", " "): kind for kind, words in WORDS.items() for word in words.split()}


def use_of(*names: str | None) -> RoomKind | None:
    """The use that the first telling name says; None when none says any."""
    for name in names:
        plain = _plain(name or "")
        for phrase, kind in WHOLE.items():
            if " " in phrase and phrase in plain:
                return kind
        for word in plain.split():
            if word in WHOLE:
                return WHOLE[word]
        for word in plain.split():
            found = None
            for w, k in WHOLE.items():
                if len(w) > 4 and word.startswith(w):
                    found = k
                    break
            found = found or next((k for w, k in WHOLE.items() if len(w) > 5 and w in word), None)
            if found:
                return found
    return None


def _plain(name: str) -> str:
    bare = unicodedata.normalize("NFKD", name.casefold())
    plain = []
    for c in bare:
        if not unicodedata.combining(c):
            plain.append(c)
    letters = "".join(plain)
    return re.sub(r"[^a-z]+", " ", letters).strip()
