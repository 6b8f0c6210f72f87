namespace ShopFloor.Data.Records;

/// <summary>A document as it was issued: numbers, XML and PDF, with its fingerprint. Never changed, never deleted; when its time is over it loses the name.</summary>
public sealed class IssuedDocument
{
    private string xml = "";
    private byte[] pdf = [];
    private string sha256 = "";

    private IssuedDocument() { }

    /// <summary>A document, written in the transaction that gives it its number.</summary>
    public IssuedDocument(
        Guid id,
        string kind,
        string number,
        DocumentFor @for,
        DateTimeOffset at,
        string json,
        (decimal Total, string Currency) sum
    )
    {
        (Id, Kind, Number, Order, At, Json) = (id, kind, number, @for.Order, at, json);
        (CustomerName, Total, Currency) = (@for.CustomerName, sum.Total, sum.Currency);
    }

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>One of <see cref="Domain.Invoicing.DocumentWords"/>.</summary>
    public string Kind { get; private set; } = "";

    /// <summary>Its number, unique.</summary>
    public string Number { get; private set; } = "";

    /// <summary>The order it is for.</summary>
    public Domain.OrderId Order { get; private set; }

    /// <summary>The document that it corrects or settles; null: none.</summary>
    public Guid? Corrects { get; init; }

    /// <summary>Buyer as printed, for lists.</summary>
    public string CustomerName { get; private set; } = "";

    /// <summary>When issued, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Day of issue, shop-local.</summary>
    public DateOnly Day { get; init; }

    /// <summary>Due day, shop-local.</summary>
    public DateOnly? Due { get; init; }

    /// <summary>All of it as a document record, JSON.</summary>
    public string Json { get; private set; } = "";

    /// <summary>Amount with tax.</summary>
    public decimal Total { get; private set; }

    /// <summary>ISO 4217.</summary>
    public string Currency { get; private set; } = "";

    /// <summary>E-invoice; empty when it cannot be one.</summary>
    public string Xml
    {
        get => xml;
        init => xml = value;
    }

    /// <summary>The readable paper.</summary>
    public byte[] Pdf
    {
        get => pdf;
        init => pdf = value;
    }

    /// <summary>SHA-256 over JSON, XML and PDF, hex.</summary>
    public string Sha256
    {
        get => sha256;
        init => sha256 = value;
    }

    /// <summary>Its time is over: the name and the papers go, numbers and sums stay.</summary>
    /// <param name="name">What stands instead of the name.</param>
    /// <param name="json">The record without the buyer.</param>
    /// <param name="hash">Fingerprint of what is left.</param>
    public void Erase(string name, string json, string hash) => (CustomerName, Json, xml, pdf, sha256) = (name, json, "", [], hash);
}

/// <summary>What and whom a document is for.</summary>
/// <param name="Order">The order.</param>
/// <param name="CustomerName">The buyer as printed.</param>
public readonly record struct DocumentFor(Domain.OrderId Order, string CustomerName);
