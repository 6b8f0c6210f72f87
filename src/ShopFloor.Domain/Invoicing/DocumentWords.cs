namespace ShopFloor.Domain.Invoicing;

/// <summary>How kinds of documents are called where they are kept, in lists and in files that go out. They stand in databases: never change one.</summary>
public static class DocumentWords
{
    /// <summary>Word of <see cref="DocumentKind.Invoice"/>.</summary>
    public const string Invoice = "invoice";

    /// <summary>Word of <see cref="DocumentKind.PartInvoice"/>.</summary>
    public const string PartInvoice = "part invoice";

    /// <summary>Word of <see cref="DocumentKind.DepositInvoice"/>.</summary>
    public const string DepositInvoice = "deposit invoice";

    /// <summary>Word of <see cref="DocumentKind.CreditNote"/>.</summary>
    public const string CreditNote = "credit note";

    /// <summary>Word of <see cref="DocumentKind.Receipt"/>.</summary>
    public const string Receipt = "receipt";

    /// <summary>A reminder is kept like a document, with a number and a paper, but it is no invoice and none of <see cref="DocumentKind"/>.</summary>
    public const string Reminder = "reminder";

    /// <summary>The word of a kind.</summary>
    public static string Of(DocumentKind kind) =>
        kind switch
        {
            DocumentKind.PartInvoice => PartInvoice,
            DocumentKind.DepositInvoice => DepositInvoice,
            DocumentKind.CreditNote => CreditNote,
            DocumentKind.Receipt => Receipt,
            _ => Invoice,
        };
}
