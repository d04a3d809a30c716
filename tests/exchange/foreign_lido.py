"""LIDO as others write it: scenarios of our own in the ways that the standards sheet (section 3) tells of.

1.0 and 1.1, numbers and short names of kinds of event, German with English beside it, a wrap of many.
"""

from __future__ import annotations

_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_NS = 'xmlns:lido="http://www.lido-schema.org"'

GERMAN = f"""{_HEAD}<lido:lido {_NS}>
  <lido:lidoRecID lido:type="local" lido:source="Kunstsammlung Ahlenburg">DE-AHL/obj/1881</lido:lidoRecID>
  <lido:descriptiveMetadata xml:lang="de">
    <lido:objectClassificationWrap>
      <lido:objectWorkTypeWrap><lido:objectWorkType>
        <lido:conceptID lido:type="URI">http://vocab.getty.edu/aat/300033618</lido:conceptID>
        <lido:term>Gemälde</lido:term>
      </lido:objectWorkType></lido:objectWorkTypeWrap>
      <lido:classificationWrap><lido:classification>
        <lido:term>Landschaft</lido:term>
      </lido:classification></lido:classificationWrap>
    </lido:objectClassificationWrap>
    <lido:objectIdentificationWrap>
      <lido:titleWrap>
        <lido:titleSet lido:pref="preferred">
          <lido:appellationValue xml:lang="de">Ebbe bei Norhaven</lido:appellationValue>
        </lido:titleSet>
        <lido:titleSet lido:pref="alternate">
          <lido:appellationValue xml:lang="en">Low Tide near Norhaven</lido:appellationValue>
        </lido:titleSet>
      </lido:titleWrap>
      <lido:inscriptionsWrap>
        <lido:inscriptions lido:type="Signatur">
          <lido:inscriptionTranscription>A. Brantow [18]81 + H.</lido:inscriptionTranscription>
          <lido:inscriptionDescription>
            <lido:descriptiveNoteValue>verso, unten rechts</lido:descriptiveNoteValue>
          </lido:inscriptionDescription>
        </lido:inscriptions>
        <lido:inscriptions>
          <lido:inscriptionDescription>
            <lido:descriptiveNoteValue>Etikett: unleserlich, auf dem Keilrahmen</lido:descriptiveNoteValue>
          </lido:inscriptionDescription>
        </lido:inscriptions>
      </lido:inscriptionsWrap>
      <lido:repositoryWrap>
        <lido:repositorySet lido:type="current">
          <lido:repositoryName>
            <lido:legalBodyName><lido:appellationValue>Kunstsammlung Ahlenburg</lido:appellationValue></lido:legalBodyName>
          </lido:repositoryName>
          <lido:workID lido:type="Inventarnummer">G 1881</lido:workID>
          <lido:repositoryLocation>
            <lido:namePlaceSet><lido:appellationValue>Ahlenburg</lido:appellationValue></lido:namePlaceSet>
          </lido:repositoryLocation>
        </lido:repositorySet>
      </lido:repositoryWrap>
      <lido:displayStateEditionWrap><lido:displayState>nach der Reinigung</lido:displayState></lido:displayStateEditionWrap>
      <lido:objectDescriptionWrap>
        <lido:objectDescriptionSet>
          <lido:descriptiveNoteValue xml:lang="de">Blick auf das Watt.</lido:descriptiveNoteValue>
        </lido:objectDescriptionSet>
      </lido:objectDescriptionWrap>
      <lido:objectMeasurementsWrap>
        <lido:objectMeasurementsSet>
          <lido:displayObjectMeasurements>Höhe: 50,5 cm</lido:displayObjectMeasurements>
          <lido:objectMeasurements><lido:measurementsSet>
            <lido:measurementType>Höhe</lido:measurementType>
            <lido:measurementUnit>cm</lido:measurementUnit>
            <lido:measurementValue>50,5</lido:measurementValue>
          </lido:measurementsSet></lido:objectMeasurements>
        </lido:objectMeasurementsSet>
        <lido:objectMeasurementsSet>
          <lido:displayObjectMeasurements>Breite: 61 cm</lido:displayObjectMeasurements>
          <lido:objectMeasurements><lido:measurementsSet>
            <lido:measurementType>Breite</lido:measurementType>
            <lido:measurementUnit>cm</lido:measurementUnit>
            <lido:measurementValue>61</lido:measurementValue>
          </lido:measurementsSet></lido:objectMeasurements>
        </lido:objectMeasurementsSet>
        <lido:objectMeasurementsSet>
          <lido:objectMeasurements>
            <lido:measurementsSet>
              <lido:measurementType>Höhe</lido:measurementType>
              <lido:measurementUnit>mm</lido:measurementUnit>
              <lido:measurementValue>700</lido:measurementValue>
            </lido:measurementsSet>
            <lido:measurementsSet>
              <lido:measurementType>Gewicht</lido:measurementType>
              <lido:measurementUnit>kg</lido:measurementUnit>
              <lido:measurementValue>7,5</lido:measurementValue>
            </lido:measurementsSet>
            <lido:extentMeasurements>Rahmen</lido:extentMeasurements>
          </lido:objectMeasurements>
        </lido:objectMeasurementsSet>
      </lido:objectMeasurementsWrap>
    </lido:objectIdentificationWrap>
    <lido:eventWrap>
      <lido:eventSet>
        <lido:event>
          <lido:eventType>
            <lido:conceptID lido:type="URI">http://terminology.lido-schema.org/lido00007</lido:conceptID>
            <lido:term>Herstellung</lido:term>
          </lido:eventType>
          <lido:eventActor>
            <lido:displayActorInRole>Anna Brantow (Maler)</lido:displayActorInRole>
            <lido:actorInRole>
              <lido:actor lido:type="person">
                <lido:actorID lido:type="URI">http://vocab.getty.edu/ulan/500000000</lido:actorID>
                <lido:nameActorSet><lido:appellationValue lido:pref="preferred">Brantow, Anna</lido:appellationValue><lido:appellationValue>Brantow-Heise, Anna</lido:appellationValue></lido:nameActorSet>
                <lido:nationalityActor><lido:term>deutsch</lido:term></lido:nationalityActor>
                <lido:vitalDatesActor><lido:earliestDate>1840</lido:earliestDate><lido:latestDate>1903</lido:latestDate></lido:vitalDatesActor>
              </lido:actor>
              <lido:roleActor><lido:term>Maler</lido:term></lido:roleActor>
              <lido:attributionQualifierActor>Umkreis</lido:attributionQualifierActor>
            </lido:actorInRole>
          </lido:eventActor>
          <lido:eventDate>
            <lido:displayDate>um 1881</lido:displayDate>
            <lido:date><lido:earliestDate>1876</lido:earliestDate><lido:latestDate>1886</lido:latestDate></lido:date>
          </lido:eventDate>
          <lido:eventPlace><lido:place><lido:namePlaceSet><lido:appellationValue>Norhaven</lido:appellationValue></lido:namePlaceSet></lido:place></lido:eventPlace>
          <lido:eventMaterialsTech>
            <lido:displayMaterialsTech xml:lang="de">Öl auf Leinwand</lido:displayMaterialsTech>
            <lido:displayMaterialsTech xml:lang="fr">huile sur toile</lido:displayMaterialsTech>
            <lido:materialsTech>
              <lido:termMaterialsTech lido:type="Material"><lido:conceptID lido:type="URI">http://vocab.getty.edu/aat/300015050</lido:conceptID><lido:term>Ölfarbe</lido:term></lido:termMaterialsTech>
              <lido:termMaterialsTech lido:type="Material"><lido:term>Leinwand</lido:term></lido:termMaterialsTech>
            </lido:materialsTech>
          </lido:eventMaterialsTech>
        </lido:event>
      </lido:eventSet>
      <lido:eventSet>
        <lido:displayEvent>Ankauf von der Galerie Torvald, 1923</lido:displayEvent>
        <lido:event>
          <lido:eventType>
            <lido:conceptID lido:type="URI">http://terminology.lido-schema.org/eventType/acquisition</lido:conceptID>
            <lido:term>Erwerb</lido:term>
          </lido:eventType>
          <lido:eventActor>
            <lido:displayActorInRole>Galerie Torvald</lido:displayActorInRole>
            <lido:actorInRole>
              <lido:actor><lido:nameActorSet><lido:appellationValue>Galerie Torvald</lido:appellationValue></lido:nameActorSet></lido:actor>
              <lido:roleActor><lido:term>Verkäufer</lido:term></lido:roleActor>
            </lido:actorInRole>
          </lido:eventActor>
          <lido:eventDate><lido:displayDate>1923</lido:displayDate></lido:eventDate>
          <lido:eventMethod><lido:term>Kauf</lido:term></lido:eventMethod>
        </lido:event>
      </lido:eventSet>
      <lido:eventSet>
        <lido:event>
          <lido:eventType><lido:term>Ausstellung</lido:term></lido:eventType>
          <lido:eventName><lido:appellationValue>Maler der Küste</lido:appellationValue></lido:eventName>
          <lido:eventDate><lido:displayDate>3.-28. Mai 1931</lido:displayDate></lido:eventDate>
          <lido:eventPlace><lido:displayPlace>Kunsthalle Norhaven</lido:displayPlace></lido:eventPlace>
        </lido:event>
      </lido:eventSet>
      <lido:eventSet>
        <lido:event>
          <lido:eventType><lido:conceptID lido:type="URI">http://terminology.lido-schema.org/lido00034</lido:conceptID></lido:eventType>
          <lido:eventDate><lido:displayDate>1954</lido:displayDate></lido:eventDate>
          <lido:eventDescriptionSet><lido:descriptiveNoteValue>Doubliert.</lido:descriptiveNoteValue></lido:eventDescriptionSet>
        </lido:event>
      </lido:eventSet>
      <lido:eventSet>
        <lido:displayEvent>Restaurierungsgespräch</lido:displayEvent>
        <lido:event><lido:eventType><lido:term>Gespräch</lido:term></lido:eventType></lido:event>
      </lido:eventSet>
    </lido:eventWrap>
    <lido:objectRelationWrap>
      <lido:subjectWrap><lido:subjectSet><lido:displaySubject>Wattenmeer</lido:displaySubject></lido:subjectSet></lido:subjectWrap>
      <lido:relatedWorksWrap><lido:relatedWorkSet>
        <lido:relatedWork><lido:displayObject>Flut</lido:displayObject><lido:object><lido:objectID lido:type="URI">https://sammlung.example/obj/1882</lido:objectID></lido:object></lido:relatedWork>
        <lido:relatedWorkRelType><lido:term>pendant of</lido:term></lido:relatedWorkRelType>
      </lido:relatedWorkSet></lido:relatedWorksWrap>
    </lido:objectRelationWrap>
  </lido:descriptiveMetadata>
  <lido:descriptiveMetadata xml:lang="fr">
    <lido:objectClassificationWrap><lido:objectWorkTypeWrap><lido:objectWorkType><lido:term>peinture</lido:term></lido:objectWorkType></lido:objectWorkTypeWrap></lido:objectClassificationWrap>
    <lido:objectIdentificationWrap>
      <lido:titleWrap><lido:titleSet><lido:appellationValue xml:lang="fr">Marée basse</lido:appellationValue></lido:titleSet></lido:titleWrap>
      <lido:objectDescriptionWrap><lido:objectDescriptionSet><lido:descriptiveNoteValue>Vue sur la mer.</lido:descriptiveNoteValue></lido:objectDescriptionSet></lido:objectDescriptionWrap>
    </lido:objectIdentificationWrap>
  </lido:descriptiveMetadata>
  <lido:administrativeMetadata xml:lang="de">
    <lido:rightsWorkWrap><lido:rightsWorkSet><lido:rightsHolder><lido:legalBodyName><lido:appellationValue>Kunstsammlung Ahlenburg</lido:appellationValue></lido:legalBodyName></lido:rightsHolder><lido:creditLine>Geschenk der Freunde</lido:creditLine></lido:rightsWorkSet></lido:rightsWorkWrap>
    <lido:recordWrap>
      <lido:recordID lido:type="local">1881</lido:recordID>
      <lido:recordType><lido:term>Einzelobjekt</lido:term></lido:recordType>
      <lido:recordSource><lido:legalBodyName><lido:appellationValue>Kunstsammlung Ahlenburg</lido:appellationValue></lido:legalBodyName></lido:recordSource>
    </lido:recordWrap>
    <lido:resourceWrap><lido:resourceSet>
      <lido:resourceRepresentation lido:type="image_thumb"><lido:linkResource>https://sammlung.example/img/1881.jpg</lido:linkResource></lido:resourceRepresentation>
      <lido:rightsResource><lido:rightsType><lido:term>CC0</lido:term></lido:rightsType></lido:rightsResource>
    </lido:resourceSet></lido:resourceWrap>
  </lido:administrativeMetadata>
</lido:lido>
"""


def small(number: str, title: str, more: str = "", *, ns: str = "") -> str:
    """The least that LIDO allows, with `more` events."""
    return f"""<lido:lido{ns}>
  <lido:lidoRecID lido:type="http://terminology.lido-schema.org/lido00100" lido:source="Kunstsammlung Ahlenburg">{number}</lido:lidoRecID>
  <lido:descriptiveMetadata xml:lang="en">
    <lido:objectClassificationWrap><lido:objectWorkTypeWrap><lido:objectWorkType><lido:term>painting</lido:term></lido:objectWorkType></lido:objectWorkTypeWrap></lido:objectClassificationWrap>
    <lido:objectIdentificationWrap><lido:titleWrap><lido:titleSet><lido:appellationValue>{title}</lido:appellationValue></lido:titleSet></lido:titleWrap></lido:objectIdentificationWrap>
    {f"<lido:eventWrap>{more}</lido:eventWrap>" if more else ""}
  </lido:descriptiveMetadata>
  <lido:administrativeMetadata xml:lang="en"><lido:recordWrap>
    <lido:recordID lido:type="local">{number}</lido:recordID>
    <lido:recordType><lido:term>item</lido:term></lido:recordType>
    <lido:recordSource><lido:legalBodyName><lido:appellationValue>Kunstsammlung Ahlenburg</lido:appellationValue></lido:legalBodyName></lido:recordSource>
  </lido:recordWrap></lido:administrativeMetadata>
</lido:lido>
"""


def event(kind: str, inner: str = "") -> str:
    """An event of that kind: an address or a word."""
    name = "conceptID" if kind.startswith("http") else "term"
    mark = ' lido:type="URI"' if name == "conceptID" else ""
    return (
        f"<lido:eventSet><lido:event><lido:eventType><lido:{name}{mark}>{kind}</lido:{name}></lido:eventType>"
        f"{inner}</lido:event></lido:eventSet>"
    )


def wrapped(*records: str) -> str:
    """A file of many records."""
    return f"{_HEAD}<lido:lidoWrap {_NS}>\n{''.join(records)}</lido:lidoWrap>\n"


def alone(number: str, title: str, more: str = "") -> str:
    """A file of one record."""
    return _HEAD + small(number, title, more, ns=f" {_NS}")
