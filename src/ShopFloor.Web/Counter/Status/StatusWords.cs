using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Counter.Status;

/// <summary>The states of pieces in words for customers, keys of the Counter's texts.</summary>
public static class StatusWords
{
    /// <param name="state">The state.</param>
    /// <param name="isOwn">The customer brings the piece; else it lies here already.</param>
    public static string Of(PieceState state, bool isOwn) =>
        state switch
        {
            PieceState.Booked when !isOwn => "booked, not begun yet",
            PieceState.Booked => "booked, not with us yet",
            PieceState.Received => "with us, waiting its turn",
            PieceState.InWork => "in work",
            PieceState.Held => "put aside, we will get in touch",
            PieceState.Reworking => "being done once more",
            PieceState.CheckedGood => "ready",
            PieceState.HandedOver => "handed over",
            PieceState.Returned => "given back unworked",
            PieceState.GoingBack => "with us, please collect it unworked",
            _ => "lost, we will get in touch",
        };

    public static StatusKind Kind(PieceState state) =>
        state switch
        {
            PieceState.Booked => StatusKind.Waiting,
            PieceState.Received => StatusKind.Ready,
            PieceState.InWork or PieceState.Reworking => StatusKind.Running,
            PieceState.CheckedGood or PieceState.HandedOver => StatusKind.Done,
            PieceState.Held or PieceState.Returned or PieceState.GoingBack => StatusKind.Attention,
            _ => StatusKind.Trouble,
        };

    /// <summary>Why an answer was not taken, by code, so that nobody can put words into the page.</summary>
    public static string OfFault(string code) =>
        code switch
        {
            "printed" => "The transfers are printed already.",
            "words-missing" => "Please say in at most 500 characters what shall be different.",
            "answer-words" => "Please answer in at most 500 characters.",
            "question-missing" => "This order has no such question.",
            "question-closed" => "This question is answered already.",
            "proof-judged" => "The picture was judged already.",
            "changed-meanwhile" => "Something has changed since you looked. Please look at it again, then answer.",
            "proof-not-needed" => "This order has nothing to approve.",
            _ => "This was not taken. Please load the page again.",
        };
}
