"""The part of the W3C's annotation context that our annotations use, written down here: none is fetched.

Source: W3C Web Annotation Vocabulary, appendix "JSON-LD context", for the terms named; what a term is
in the vocabulary (class or property, link or text) from the same document. From memory: that these are
all that the published file says of them.
"""

from __future__ import annotations

CONTEXT = {
    "oa": "http://www.w3.org/ns/oa#",
    "as": "http://www.w3.org/ns/activitystreams#",
    "dc": "http://purl.org/dc/elements/1.1/",
    "dctypes": "http://purl.org/dc/dcmitype/",
    "dcterms": "http://purl.org/dc/terms/",
    "foaf": "http://xmlns.com/foaf/0.1/",
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "schema": "http://schema.org/",
    "xsd": "http://www.w3.org/2001/XMLSchema#",
    "id": "@id",
    "type": "@type",
    "Annotation": "oa:Annotation",
    "AnnotationCollection": "as:OrderedCollection",
    "AnnotationPage": "as:OrderedCollectionPage",
    "FragmentSelector": "oa:FragmentSelector",
    "SvgSelector": "oa:SvgSelector",
    "SpecificResource": "oa:SpecificResource",
    "TextualBody": "oa:TextualBody",
    "Image": "dctypes:StillImage",
    "Person": "foaf:Person",
    "Organization": "foaf:Organization",
    "body": {"@type": "@id", "@id": "oa:hasBody"},
    "target": {"@type": "@id", "@id": "oa:hasTarget"},
    "source": {"@type": "@id", "@id": "oa:hasSource"},
    "selector": {"@type": "@id", "@id": "oa:hasSelector"},
    "motivation": {"@type": "@vocab", "@id": "oa:motivatedBy"},
    "purpose": {"@type": "@vocab", "@id": "oa:hasPurpose"},
    "describing": "oa:describing",
    "classifying": "oa:classifying",
    "value": "rdf:value",
    "format": "dc:format",
    "language": "dc:language",
    "conformsTo": {"@type": "@id", "@id": "dcterms:conformsTo"},
    "creator": {"@type": "@id", "@id": "dcterms:creator"},
    "name": "foaf:name",
    "label": "rdfs:label",
    "total": {"@type": "xsd:nonNegativeInteger", "@id": "as:totalItems"},
    "first": {"@type": "@id", "@id": "as:first"},
    "startIndex": {"@type": "xsd:nonNegativeInteger", "@id": "as:startIndex"},
    "items": {"@type": "@id", "@id": "as:items", "@container": "@list"},
}
